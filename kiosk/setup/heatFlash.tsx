import type { HeatFlash } from '../../machines/sheet/cureSchema.ts'
import {
  heatFlashMissing,
  heatFlashSchemaOf,
  withHeatFlash,
} from '../../machines/sheet/heatFlashForm.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { useWords } from '../commands/shop.ts'
import { FormOf, useForm } from '../forms/form.tsx'
import { Keypad } from '../forms/keypad.tsx'
import { fieldsOf } from '../forms/spec.ts'
import { hashOf } from '../ui/route.ts'
import { setupIn } from '../words/setupIn.ts'
import * as own from '../words/sheetForm.ts'
import { useOwnWords } from '../words/words.ts'
import { BackHead } from './parts.tsx'
import { atUsual, firstTemperatures, usualC } from './sheetSteps.ts'

type Props = {
  readonly state: State
  readonly now: number
  readonly sheet: Sheet
  /** Where it was asked: back there once it is typed. */
  readonly from: string | undefined
}

/** Asks for the flash before heat that a sheet lacks; what is typed is a new version of the sheet. */
export function HeatFlashForm({ state, now, sheet, from }: Props) {
  const setup = setupIn(useWords())
  const say = useOwnWords(own)
  const missing = heatFlashMissing(sheet)
  const schema = heatFlashSchemaOf(missing)
  const fields = fieldsOf(schema)
  const spec = { kind: 'group', fields } as const
  const name = `heat.${sheet.sheet}`
  const draft = useForm(name, fields)
  const atC = usualC(state)
  const proposed = firstTemperatures(spec, draft.value).map((path) => [path, atC])
  return (
    <div class="stack sheet-form">
      <BackHead section="sheets" title={sheet.name} />
      <h2>{setup.fields.flashBefore}</h2>
      <p class="sentence">{say.heatFlashWhy}</p>
      <FormOf
        draft={draft}
        name={name}
        fields={fields}
        fieldWords={{ bake: say.beforeBake, infrared: say.beforeInfrared }}
        keys={<Keypad hasNext />}
        schema={schema}
        complete={(value) => atUsual(spec, value, atC) as object}
        type="SaveSheet"
        data={(given) => ({ sheet: withHeatFlash(sheet, given as Record<string, HeatFlash>) })}
        now={now}
        word={setup.save}
        proposed={Object.fromEntries(proposed)}
        onSaved={() => {
          location.hash = from === 'wall' ? hashOf('wall') : hashOf('setup', 'sheets', sheet.sheet)
        }}
      />
      <p class="minor">{setup.makerFirst}</p>
    </div>
  )
}
