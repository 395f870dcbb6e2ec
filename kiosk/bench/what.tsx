import type { ComponentChildren } from 'preact'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { useShop } from '../commands/shop.ts'
import { whyProposed } from '../lanes/activatorProposal.ts'
import { Choice } from '../ui/parts.tsx'
import * as own from '../words/firstRun.ts'
import { useOwnWords } from '../words/words.ts'
import { optionsIn } from './asked.tsx'
import { MixFields, type StepProps } from './parts.tsx'

type Props = StepProps & {
  readonly sheets: readonly Sheet[]
  /** The key that repeats the last mix, where there is one. */
  readonly repeat: ComponentChildren
}

/** Which product, for what, and with what in it for today's air. */
export function What({ draft, it, sheets, repeat }: Props) {
  const { words, format } = useShop()
  const { bench, stage } = words.value
  const { temperature } = format.value
  const say = useOwnWords(own)
  const hasOptions = it.sheet.activators.length > 0 || it.sheet.reducers.length > 0
  const none = { value: '', word: bench.none }
  return (
    <div class="two">
      <MixFields
        draft={draft}
        it={it}
        of={it.colours.length > 0 ? ['sheet', 'job', 'colour'] : ['sheet', 'job']}
        offers={{
          sheet: {
            options: sheets.map((s) => ({
              value: s.sheet,
              word: s.name,
              small: [stage[s.stage], ...(s.sample ? [say.sample] : [])].join(' · '),
            })),
          },
          job: {
            options: [
              { value: '', word: bench.stock },
              ...it.jobs.map(({ id, title }) => ({ value: id, word: title })),
            ],
          },
          colour: { options: [none, ...it.colours.map((c) => ({ value: c.key, word: c.code }))] },
        }}
      />
      <div class="form">
        {repeat}
        {hasOptions && (
          <>
            <p class="minor">
              {it.air === null
                ? bench.noAir
                : it.isAirOld
                  ? bench.airOld(temperature(it.air.airC))
                  : bench.airNow(temperature(it.air.airC))}
            </p>
            <MixFields draft={draft} it={it} of={['warmestC']} />
          </>
        )}
        <OptionChoice draft={draft} it={it} of="activator" options={it.sheet.activators} />
        <OptionChoice draft={draft} it={it} of="reducer" options={it.sheet.reducers} />
        <Additives draft={draft} it={it} />
      </div>
    </div>
  )
}

/** What may be put in besides: each is in or not. */
function Additives({ draft, it }: Pick<StepProps, 'draft' | 'it'>) {
  const { words } = useShop()
  const { bench } = words.value
  const all = it.sheet.additives ?? []
  if (all.length === 0) return null
  const toggle = (name: string) => {
    // What is in the cup by then cannot change.
    if (draft.value.pours.length > 0) return
    const others = it.additives.filter((one) => one !== name)
    const additives = others.length < it.additives.length ? others : [...others, name]
    draft.value = { ...draft.value, isOpen: false, additives }
  }
  return (
    <Choice
      name="additives"
      word={bench.additives}
      picked={it.additives}
      options={all.map(({ name }) => ({ value: name, word: name }))}
      onPick={toggle}
    />
  )
}

type OptionProps = Pick<StepProps, 'draft' | 'it'> & {
  readonly of: 'activator' | 'reducer'
  readonly options: Sheet['activators']
}

/** What the sheet lists, each with its range; the proposed one says why. */
function OptionChoice({ draft, it, of, options }: OptionProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  if (options.length === 0) return null
  const { temperature } = format.value
  const choice = it[of]
  const proposed = choice.option?.name
  return (
    <div>
      <MixFields
        draft={draft}
        it={it}
        of={[of]}
        offers={{
          [of]: {
            options: optionsIn(it.sheet, of, words.value, temperature, proposed),
          },
        }}
      />
      <p class="sentence" data-why={of}>
        {whyProposed(choice, it.air?.airC ?? it.warmestC, words.value, temperature)}{' '}
        {proposed !== undefined && choice.picked !== proposed && bench.otherThanProposed(proposed)}
      </p>
    </div>
  )
}
