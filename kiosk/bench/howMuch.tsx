import { COMMANDS } from '../../machines/commands.ts'
import { quantity } from '../../machines/trade/film.ts'
import { useShop } from '../commands/shop.ts'
import { NumberField } from '../forms/fields.tsx'
import { numberIn } from '../forms/spec.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold } from '../ui/parts.tsx'
import { shortLength } from '../units/format.ts'
import { fieldText } from '../units/measure.ts'
import { minutesMs } from './amount.ts'
import type { Draft } from './draft.ts'
import type { StepProps } from './parts.tsx'

/** Cup sizes of a bench; zero means not given. */
const CUPS_ML = [0, 250, 400, 650, 1000, 2000] as const
const LEAST_ML = 10
const TOTAL = numberIn(COMMANDS.MixCup, 'totalMl')
const needed = (name: string) => numberIn(quantity.schema, name)
const NEEDS = [
  { name: 'areaM2', spec: needed('areaM2'), step: 0.1 },
  { name: 'coats', spec: needed('coats'), step: 1 },
  { name: 'dryUm', spec: needed('dryUmPerCoat'), step: 1 },
  { name: 'solids', spec: needed('solids'), step: 1 },
  { name: 'transfer', spec: needed('transfer'), step: 5 },
] as const

/** How much for which panels, and whether the cup lasts for it. */
export function HowMuch({ draft, it }: StepProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const set = (change: Partial<Draft>) => {
    // With another amount the first cup is a different one.
    draft.value = { ...draft.value, firstMl: null, ...change }
  }
  const need = ({ name, spec, step }: (typeof NEEDS)[number]) => (
    <NumberField
      key={name}
      name={name}
      word={bench[name === 'areaM2' ? 'area' : name]}
      value={it[name]}
      spec={spec}
      step={step}
      onChange={(value) => set({ [name]: value })}
    />
  )
  return (
    <div class="two">
      <div class="form">
        {it.job !== '' &&
          (it.panels.length === 0 ? (
            <p class="sentence">{bench.noPanels}</p>
          ) : (
            <Choice
              name="panels"
              word={bench.panels}
              picked={it.chosen}
              options={it.panels.map((p) => ({
                value: p.id,
                word: p.name,
                small: p.areaM2 === null ? bench.noArea : `${fieldText(p.areaM2)} m²`,
              }))}
              onPick={(id) =>
                set({
                  panels: it.chosen.includes(id)
                    ? it.chosen.filter((other) => other !== id)
                    : [...it.chosen, id],
                  areaM2: null,
                  coats: null,
                })
              }
            />
          ))}
        <div class="numbers">{NEEDS.slice(0, 2).map(need)}</div>
        <Fold word={bench.film} act="film" isOpen={it.dryUm === null || it.solids === null}>
          <div class="numbers">{NEEDS.slice(2).map(need)}</div>
        </Fold>
        <p class="sentence" data-needed={it.neededMl ?? ''}>
          {it.neededMl === null
            ? bench.noEstimate
            : bench.estimate(format.value.volume(it.neededMl))}
          {it.neededMl !== null && <small class="minor"> {bench.estimateHow}</small>}
        </p>
      </div>
      <div class="form">
        <div class="numbers">
          <NumberField
            name="totalMl"
            word={bench.total}
            value={it.mix.totalMl}
            spec={TOTAL}
            least={LEAST_ML}
            onChange={(totalMl) => set({ totalMl })}
          />
          {it.neededMl !== null && it.mix.totalMl !== it.neededMl && (
            <Press onPress={() => set({ totalMl: null })}>{bench.useEstimate}</Press>
          )}
        </div>
        <Choice
          name="cupMl"
          word={bench.cupHolds}
          picked={String(it.mix.cupMl ?? 0)}
          options={CUPS_ML.map((ml) => ({
            value: String(ml),
            word: ml === 0 ? bench.notSaid : format.value.volume(ml),
          }))}
          onPick={(ml) =>
            set({ cupMl: ml === '0' ? null : Number(ml), firstMl: draft.value.firstMl })
          }
        />
        {it.mix.cupMl !== null && it.mix.totalMl > it.mix.cupMl && (
          <Sentence>{bench.fitsNot(format.value.volume(it.mix.cupMl))}</Sentence>
        )}
        <Lives it={it} onFirst={(firstMl) => set({ firstMl })} />
      </div>
    </div>
  )
}

type LivesProps = {
  readonly it: StepProps['it']
  readonly onFirst: (ml: number) => void
}

/** Whether one cup lasts for its coats; if not, how many are mixed, and when each. */
function Lives({ it, onFirst }: LivesProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const { life } = it
  const length = (minutes: number) => shortLength(minutesMs(minutes))
  const temperature = (tempC: number) => format.value.temperature(tempC)
  const volume = (share: number) => format.value.volume(share * it.wholeMl)
  const first = life.kind === 'several' ? life.cups[0] : undefined
  return (
    <section class="life-plan" data-life={life.kind}>
      <h3>{bench.life}</h3>
      {life.kind === 'endless' && <p class="sentence">{bench.livesOn}</p>}
      {life.kind === 'tooLong' && <p class="sentence">{bench.tooLong}</p>}
      {life.kind === 'noFlash' && <p class="sentence">{bench.noFlash}</p>}
      {life.kind === 'unknown' && <p class="sentence">{bench.notPlanned}</p>}
      {life.kind === 'enough' && (
        <p class="sentence">{bench.lives(length(life.lastCoatAtMin), length(life.livesMin))}</p>
      )}
      {life.kind === 'several' && (
        <>
          <p class="sentence">{bench.cupsNeeded(life.cups.length)}</p>
          <ol class="plan">
            {life.cups.map((cup, i) => (
              <li key={cup.mixAtMin}>
                {bench.cupAt(
                  i + 1,
                  cup.mixAtMin === 0 ? bench.atOnce : bench.after(length(cup.mixAtMin)),
                  cup.coats,
                  volume(cup.share),
                )}
              </li>
            ))}
          </ol>
          {first && (
            <Press onPress={() => onFirst(Math.ceil(first.share * it.wholeMl))}>
              {bench.firstCup(volume(first.share))}
            </Press>
          )}
        </>
      )}
      {(life.kind === 'enough' || life.kind === 'several') && (
        <p class="minor">
          {bench.planBy(temperature(it.air?.airC ?? it.potC), temperature(it.potC))}
        </p>
      )}
    </section>
  )
}
