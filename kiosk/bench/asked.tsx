import type { Sheet } from '../../machines/sheet/schema.ts'
import { useShop } from '../commands/shop.ts'
import { Choice } from '../ui/parts.tsx'
import type { Words } from '../words/en.ts'
import type { Filled } from './draft.ts'
import { NONE } from './options.ts'
import type { StepProps } from './parts.tsx'
import type { PourView } from './pours.ts'

const KINDS = ['activator', 'reducer'] as const
type OptionKind = (typeof KINDS)[number]

/** What a sheet lists, each with its range. What its ratio asks for can be left unsaid, but not left out. */
export function optionsIn(
  sheet: Sheet,
  of: OptionKind,
  { bench }: Words,
  temperature: (tempC: number) => string,
  proposed?: string,
) {
  const goesIn = sheet.components.some(({ role, parts }) => role === of && parts > 0)
  return [
    ...(of === 'activator' ? sheet.activators : sheet.reducers).map(({ name, fromC, toC }) => ({
      value: name,
      word: name,
      small: [
        bench.range(temperature(fromC), temperature(toC)),
        ...(name === proposed ? [bench.proposed] : []),
      ].join(' · '),
    })),
    { value: NONE, word: goesIn ? bench.notSaid : bench.none },
  ]
}

/** What must be said now: as it is about to be poured, and at the latest before MIXED. */
export function askedOf(it: Filled, view: PourView | null): OptionKind | undefined {
  const isEnd = view === null || view.isAllIn
  const next = isEnd ? undefined : it.sheet.components[view.next?.part ?? -1]?.role
  return KINDS.find((of) => it[of].isAsked && (isEnd || next === of))
}

type Props = Pick<StepProps, 'draft' | 'it'> & { readonly of: OptionKind }

/** Which one goes in, where none is made for this air and none was chosen: its own clocks depend on it. */
export function Asked({ draft, it, of }: Props) {
  const { words, format } = useShop()
  const { bench } = words.value
  const { temperature } = format.value
  const { option, warmestC } = it[of]
  return (
    <>
      {option === null && <p class="sentence">{bench.noneFor(temperature(warmestC))}</p>}
      <Choice
        name={`asked-${of}`}
        word={bench.which[of]}
        picked=""
        options={optionsIn(it.sheet, of, words.value, temperature)}
        onPick={(name) => {
          draft.value = { ...draft.value, [of]: name }
        }}
      />
    </>
  )
}
