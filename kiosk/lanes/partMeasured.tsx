import { useSignal } from '@preact/signals'
import type { PanelContext } from '../../machines/panel/context.ts'
import { bakePoint } from '../../machines/panel/cureClock.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { type Commands, useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { Answer } from '../ui/answer.tsx'
import { parseMeasure, typedMeasure, unitOf } from '../units/measure.ts'
import { heatIn } from '../words/heat.ts'

type Props = {
  readonly id: string
  readonly panel: PanelContext
  readonly commands: Commands
  readonly onTaken?: () => void
}

/** How warm a part is in its bake, as its thermometer says it: typed, or stepped with gloves on from what was to be reached. */
export function PartMeasured({ id, panel, commands, onTaken }: Props) {
  const { words, format } = useShop()
  const text = heatIn(words.value)
  const typed = useSignal('')
  const { units } = format.value
  const step = (by: 1 | -1) => {
    const shown = parseMeasure(typed.value, 'temperature', units)
    const fromC = shown ?? bakePoint(panel)?.tempC ?? 0
    const from = Math.round(Number(typedMeasure(fromC, 'temperature', units)))
    typed.value = String(shown === null ? from : from + by)
  }
  const read = async (event: Event) => {
    event.preventDefault()
    const partC = parseMeasure(typed.value, 'temperature', units) ?? typed.value
    if (!isTaken(await commands.askTyped('ReadPart', { panel: id, partC }))) return
    typed.value = ''
    onTaken?.()
  }
  return (
    <form class="acts part-measured" onSubmit={(e) => void read(e)}>
      <Field
        name="part"
        word={text.partNow}
        value={typed.value}
        isNumber
        unit={unitOf('temperature', units).word}
        onStep={step}
        onInput={(to) => {
          typed.value = to
        }}
      />
      <button type="submit" data-act="ReadPart" disabled={commands.sending.value.busy}>
        {text.savePart}
      </button>
    </form>
  )
}

/** The same where nothing else is sent. */
export function PartMeasuredHere({
  now,
  ...props
}: Omit<Props, 'commands'> & { readonly now: number }) {
  const commands = useCommands()
  return (
    <>
      <PartMeasured {...props} commands={commands} />
      <Answer sending={commands.sending.value} now={now} />
    </>
  )
}
