import type { Signal } from '@preact/signals'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { type Around, Field } from '../forms/fields.tsx'
import { FieldsOf } from '../forms/form.tsx'
import { cautionsFor } from '../lanes/cautions.ts'
import { Press } from '../ui/buttons.tsx'
import { Cautions } from '../ui/cautions.tsx'
import { Fold, PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { afterChange, type Draft, type Filled, MIX, shownOf } from './draft.ts'
import { shownOption } from './options.ts'

type Props = {
  readonly sheet: Sheet | undefined
  /** Whether activator is in it, or goes in. */
  readonly isActivated: boolean
}

/** What hurts here, and that a sheet without hazards is treated as danger. */
export function MixCautions({ sheet, isActivated }: Props) {
  const { bench } = useWords()
  const { isMissing, names } = cautionsFor(sheet, isActivated)
  return (
    <>
      {isMissing && <p class="sentence">{bench.hazardMissing}</p>}
      <Cautions names={names} />
    </>
  )
}

/** What each step of mixing needs. */
export type StepProps = {
  readonly state: State
  readonly draft: Signal<Draft>
  readonly it: Filled
  readonly now: number
}

type MixFieldsProps = Pick<StepProps, 'draft' | 'it'> & {
  readonly of: readonly (keyof typeof MIX)[]
  readonly offers?: Around['offers']
}

/** Some of what is asked for before the first pour; what is left open shows what is proposed. */
export function MixFields({ draft, it, of, offers = {} }: MixFieldsProps) {
  const { bench } = useWords()
  const shown = shownOf(draft.value, it)
  const { warmestC, areaM2, coats, dryUmPerCoat, solids, transfer } = it
  const figures = { warmestC, areaM2, coats, dryUmPerCoat, solids, transfer }
  return (
    <FieldsOf
      fields={Object.fromEntries(of.flatMap((name) => (MIX[name] ? [[name, MIX[name]]] : [])))}
      draft={shown}
      fieldWords={bench.fields}
      proposed={{
        ...figures,
        panels: it.chosen,
        activator: shownOption(it.activator),
        reducer: shownOption(it.reducer),
        totalMl: it.mix.totalMl,
      }}
      offers={offers}
      isLive
      onChange={(to) => {
        draft.value = afterChange(draft.value, shown, to)
      }}
    />
  )
}

/** Empties the form; what was poured by it is forgotten. */
export function Again({ onAgain }: { onAgain: () => void }) {
  const { words } = useShop()
  return (
    <Press act="again" isApart onPress={onAgain}>
      {words.value.bench.again}
    </Press>
  )
}

/** What the forms of one cup share. */
export type CupFormProps = {
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly now: number
}

export function FormHead({ title }: { title: string }) {
  const { words } = useShop()
  return <PageHead title={title} back={words.value.act.close} backTo={hashOf('cups')} />
}

/** Lot numbers, for shops that keep them; out of the way of those that do not. */
export function Lots({ sheet, draft }: { sheet: Sheet; draft: Signal<Draft> }) {
  const { bench } = useWords()
  return (
    <Fold word={bench.lots} act="lots">
      {sheet.components.map(({ name }) => (
        <Field
          key={name}
          name={`lot-${name}`}
          word={bench.lot(name)}
          most={60}
          value={draft.value.lots[name] ?? ''}
          onInput={(lot) => {
            draft.value = { ...draft.value, lots: { ...draft.value.lots, [name]: lot } }
          }}
        />
      ))}
    </Fold>
  )
}
