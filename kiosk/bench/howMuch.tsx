import { useShop } from '../commands/shop.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Fold } from '../ui/parts.tsx'
import { shortLength } from '../units/format.ts'
import { fieldText } from '../units/measure.ts'
import { minutesMs } from './amount.ts'
import type { Draft } from './draft.ts'
import { MixFields, type StepProps } from './parts.tsx'

/** Cup sizes of a bench. */
const CUPS_ML = [250, 400, 650, 1000, 2000] as const

/** How much for which panels, and whether the cup lasts for it. */
export function HowMuch({ draft, it }: StepProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const { volume } = format.value
  const set = (change: Partial<Draft>) => {
    draft.value = { ...draft.value, firstMl: '', ...change }
  }
  const hasPanels = it.job !== '' && it.panels.length > 0
  return (
    <div class="two">
      <div class="form">
        {it.job !== '' && !hasPanels && <p class="sentence">{bench.noPanels}</p>}
        <MixFields
          draft={draft}
          it={it}
          of={hasPanels ? ['panels', 'areaM2', 'coats'] : ['areaM2', 'coats']}
          offers={{
            panels: {
              options: it.panels.map((p) => ({
                value: p.id,
                word: p.name,
                small: p.areaM2 === null ? bench.noArea : `${fieldText(p.areaM2)} m²`,
              })),
            },
          }}
        />
        <Fold word={bench.film} act="film" isOpen={it.dryUmPerCoat === null || it.solids === null}>
          <MixFields draft={draft} it={it} of={['dryUmPerCoat', 'solids', 'transfer']} />
        </Fold>
        <p class="sentence" data-needed={it.neededMl ?? ''}>
          {it.neededMl === null ? bench.noEstimate : bench.estimate(volume(it.neededMl))}
          {it.neededMl !== null && <small class="minor"> {bench.estimateHow}</small>}
        </p>
      </div>
      <div class="form">
        <MixFields
          draft={draft}
          it={it}
          of={['totalMl', 'cupMl']}
          offers={{
            cupMl: {
              options: [
                { value: '', word: bench.notSaid },
                ...CUPS_ML.map((ml) => ({ value: String(ml), word: volume(ml) })),
              ],
            },
          }}
        />
        {it.neededMl !== null && it.mix.totalMl !== it.neededMl && (
          <Press onPress={() => set({ totalMl: '' })}>{bench.useEstimate}</Press>
        )}
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
