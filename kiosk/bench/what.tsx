import type { Sheet } from '../../machines/sheet/schema.ts'
import { activator } from '../../machines/trade/activator.ts'
import { useShop } from '../commands/shop.ts'
import { NumberField } from '../forms/fields.tsx'
import { numberIn } from '../forms/spec.ts'
import { whyProposed } from '../lanes/activatorProposal.ts'
import { Choice } from '../ui/parts.tsx'
import type { Draft, OptionChoice } from './draft.ts'
import type { StepProps } from './parts.tsx'

const WARMEST = numberIn(activator.schema, 'warmestC')

type Props = StepProps & { readonly sheets: readonly Sheet[] }

/** Which product, for what, and with what in it for today's air. */
export function What({ draft, it, sheets }: Props) {
  const { words, format } = useShop()
  const { bench, stage } = words.value
  const set = (change: Partial<Draft>) => {
    draft.value = { ...draft.value, firstMl: null, ...change }
  }
  const temperature = (tempC: number) => format.value.temperature(tempC)
  const hasOptions = it.sheet.activators.length > 0 || it.sheet.reducers.length > 0
  return (
    <div class="two">
      <div class="form">
        <Choice
          name="sheet"
          word={bench.product}
          picked={it.sheet.sheet}
          options={sheets.map((s) => ({ value: s.sheet, word: s.name, small: stage[s.stage] }))}
          onPick={(sheet) =>
            // Another product has other options, film and panels.
            set({
              sheet,
              activator: null,
              reducer: null,
              panels: null,
              areaM2: null,
              coats: null,
              dryUm: null,
              solids: null,
              totalMl: null,
              // Another product's activator has another lot.
              lots: {},
            })
          }
        />
        <Choice
          name="job"
          word={bench.forJob}
          picked={it.job}
          options={[
            { value: '', word: bench.stock },
            ...it.jobs.map(({ id, title }) => ({ value: id, word: title })),
          ]}
          onPick={(job) => set({ job, colour: '', panels: null, areaM2: null, coats: null })}
        />
        {it.colours.length > 0 && (
          <Choice
            name="colour"
            word={bench.colour}
            picked={it.colour}
            options={[
              { value: '', word: bench.none },
              ...it.colours.map((c) => ({ value: c.key, word: c.code })),
            ]}
            onPick={(colour) => set({ colour })}
          />
        )}
      </div>
      <div class="form">
        {hasOptions && (
          <>
            <p class="minor">
              {it.air === null
                ? bench.noAir
                : it.isAirOld
                  ? bench.airOld(temperature(it.air.airC))
                  : bench.airNow(temperature(it.air.airC))}
            </p>
            <NumberField
              name="warmest"
              word={bench.warmest}
              value={it.warmestC}
              spec={WARMEST}
              onChange={(warmestC) => set({ warmestC })}
            />
          </>
        )}
        <Option
          name="activator"
          word={bench.activator}
          options={it.sheet.activators}
          choice={it.activator}
          nowC={it.air?.airC ?? it.warmestC}
          onPick={(activator) => set({ activator })}
        />
        <Option
          name="reducer"
          word={bench.reducer}
          options={it.sheet.reducers}
          choice={it.reducer}
          nowC={it.air?.airC ?? it.warmestC}
          onPick={(reducer) => set({ reducer })}
        />
      </div>
    </div>
  )
}

type OptionProps = {
  readonly name: string
  readonly word: string
  readonly options: Sheet['activators']
  readonly choice: OptionChoice
  readonly nowC: number
  readonly onPick: (name: string) => void
}

/** What the sheet lists, each with its range; the proposed one says why. */
function Option({ name, word, options, choice, nowC, onPick }: OptionProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  if (options.length === 0) return null
  const temperature = (tempC: number) => format.value.temperature(tempC)
  const proposed = choice.option?.name
  return (
    <div>
      <Choice
        name={name}
        word={word}
        picked={choice.picked}
        options={[
          ...options.map((o) => ({
            value: o.name,
            word: o.name,
            small: [
              bench.range(temperature(o.fromC), temperature(o.toC)),
              ...(o.name === proposed ? [bench.proposed] : []),
            ].join(' · '),
          })),
          { value: '', word: bench.none },
        ]}
        onPick={onPick}
      />
      <p class="sentence" data-why={name}>
        {whyProposed(choice, nowC, words.value, temperature)}{' '}
        {proposed !== undefined && choice.picked !== proposed && bench.otherThanProposed(proposed)}
      </p>
    </div>
  )
}
