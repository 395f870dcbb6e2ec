import type { ReadCup } from '../../labels/code.ts'
import { useShop } from '../commands/shop.ts'
import { cautionsOnLabel } from '../lanes/cautions.ts'
import { Cautions } from '../ui/cautions.tsx'
import { countdown, shortLength } from '../units/format.ts'
import * as ownWords from '../words/cupPage.ts'
import { useOwnWords } from '../words/words.ts'

/** What the label itself says: for a cup that this kiosk does not hold, or a server that is away. */
export function LabelScreen({ label, now }: { label: ReadCup; now: number }) {
  const { words, format } = useShop()
  const say = useOwnWords(ownWords)
  const { scan, stage } = words.value
  const end = label.useByMs
  return (
    <div class="scan-cup of-label">
      <section>
        <h2>
          {scan.cup} <span class="digits">{label.cup.slice(0, 4)}</span> ·{' '}
          {label.stage !== null && label.stage !== 'other' ? stage[label.stage] : label.class}
        </h2>
        <p class="sentence">{say.offline}</p>
        {end === null ? (
          <p class="life words">{say.noPotLife}</p>
        ) : (
          <p
            class={label.isPast ? 'life digits bell' : 'life digits'}
            data-sound={label.isPast ? 'B2' : undefined}
          >
            {label.isPast ? words.value.wall.over(shortLength(now - end)) : countdown(end - now)}
          </p>
        )}
        <p class="life-note">
          {end !== null &&
            (label.isPast
              ? say.overSince(format.value.timeAndDay(end, now))
              : `${scan.of}, ${say.endsAt(format.value.timeAndDay(end, now))}`)}
          {label.keepUntilMs !== null && say.keepUntil(format.value.date(label.keepUntilMs, now))}
        </p>
      </section>
      <section>
        <h3 class="minor">{say.mixed}</h3>
        <p class="digits">{format.value.timeAndDay(label.mixedAtMs, now)}</p>
        <h3 class="minor">{say.ratio}</h3>
        <p class="digits">{label.ratio ?? say.ratioOnSheet}</p>
        <h3 class="minor">{say.hazard}</h3>
        <p class="sentence" data-hazard={label.hazard.signal}>
          {[
            say.signals[label.hazard.signal],
            ...label.hazard.pictograms.map((picture) => say.pictograms[picture]),
          ].join(' · ')}
        </p>
        <Cautions names={cautionsOnLabel(label.hazard)} />
      </section>
    </div>
  )
}
