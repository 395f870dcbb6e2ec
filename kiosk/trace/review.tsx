import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { ReviewsAnswer } from '../../machines/contract/reviews.ts'
import { REVIEWS } from '../../machines/records/commands.ts'
import { causesOf, type Defect } from '../../machines/trace/causes.ts'
import { REVIEWS_LEAST, type Review } from '../../machines/trace/reviews.ts'
import type { Signal } from '../../machines/trace/signals.ts'
import { useShop } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold, worded } from '../ui/parts.tsx'
import * as own from '../words/settle.ts'
import { traceIn } from '../words/traceIn.ts'
import { useOwnWords } from '../words/words.ts'
import { SaveIt, Typed } from './saveIt.tsx'

type Verdict = (typeof REVIEWS)[number]
type Props = {
  readonly job: string
  readonly panels: readonly string[]
  readonly defect: Defect
  readonly cause: string
  readonly now: number
  readonly onSaved: (said: Reviewed) => void
}

/** What a review says. */
export type Reviewed = Pick<Review, 'at' | 'cause' | 'found' | 'reason'>

/** A reviewer says what it was: this cause, not this one, or another; and how that is known. */
export function ReviewCause(props: Props) {
  return (
    <Fold word={useOwnWords(own).review} act="review">
      {() => <ReviewForm {...props} />}
    </Fold>
  )
}

function ReviewForm({ job, panels, defect, cause, now, onSaved }: Props) {
  const say = useOwnWords(own)
  const trace = traceIn(useShop().words.value)
  const is = useSignal<Verdict | null>(null)
  const instead = useSignal<string | null>(null)
  const reason = useSignal('')
  const others = causesOf(defect)
    .map(({ id }): Signal | 'notVisible' => id)
    .concat('notVisible')
    .filter((id) => id !== cause)
  const why = reason.value.trim()
  const other = is.value === 'edit' ? instead.value : null
  const data =
    is.value === null || why === '' || (is.value === 'edit' && other === null)
      ? null
      : {
          ...{ job, panels, defect, cause, verdict: is.value, reason: why },
          ...(other === null ? {} : { instead: other }),
        }
  return (
    <>
      <Choice
        name="review"
        picked={is.value}
        options={worded(REVIEWS, (one) => say.verdicts[one as Verdict])}
        onPick={(value) => {
          is.value = value as Verdict
        }}
      />
      {is.value === 'edit' && (
        <Choice
          name="instead"
          word={say.instead}
          picked={instead.value}
          options={worded(others, (one) =>
            one === 'notVisible' ? trace.notVisible : trace.signals[one as Signal],
          )}
          onPick={(value) => {
            instead.value = value
          }}
        />
      )}
      <Typed name="reviewReason" word={say.reason} of={reason} />
      <SaveIt
        type="ReviewCause"
        isMain
        word={say.save}
        onTaken={() => {
          const found = is.value === 'accept' ? cause : other
          onSaved({ at: now, cause, found, reason: why })
        }}
        {...{ data, now }}
      />
    </>
  )
}

/** What a person found of a cause, where somebody has looked. */
export function ReviewSaid({ review, now }: { readonly review: Reviewed; readonly now: number }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const trace = traceIn(words.value)
  const { at, cause, found, reason } = review
  const name = found === 'notVisible' ? trace.notVisible : (trace.signals[found as Signal] ?? found)
  const said =
    found === null
      ? say.verdicts.reject
      : found === cause
        ? say.verdicts.accept
        : `${say.verdicts.edit}: ${name}`
  return (
    <p class="sentence" data-reviewed={cause}>
      {say.wasReviewed(format.value.timeAndDay(at, now), said, reason ?? '')}
    </p>
  )
}

type PriorsProps = {
  readonly defect: Defect
  /** Goes up when something was reviewed here. */
  readonly again: number
  readonly isOwn: boolean
  readonly onUse: (priors: Readonly<Record<string, number>> | null) => void
}

async function ask(defect: Defect): Promise<ReviewsAnswer | 'away'> {
  try {
    const response = await fetch(`/api/reviews?defect=${defect}`)
    return response.ok ? ((await response.json()) as ReviewsAnswer) : 'away'
  } catch {
    return 'away'
  }
}

/** How usual each cause is, before and after the shop's reviews; nothing is used before somebody says so. */
export function Priors({ defect, again, isOwn, onUse }: PriorsProps) {
  const { words, format, link } = useShop()
  const say = useOwnWords(own)
  const trace = traceIn(words.value)
  const told = useSignal<ReviewsAnswer | 'away' | null>(null)
  useEffect(() => {
    let isWanted = true
    void ask(defect).then((answer) => {
      if (isWanted) told.value = answer
    })
    return () => {
      isWanted = false
    }
  }, [defect, again, link.value])
  if (told.value === null) return null
  if (told.value === 'away') return <p class="minor">{say.away}</p>
  const { closed, priors } = told.value
  const percent = (share: number | null) =>
    share === null ? '–' : `${format.value.number(100 * share, 0)} %`
  const use = () =>
    onUse(
      isOwn
        ? null
        : Object.fromEntries(
            priors.flatMap(({ cause, own: it }) => (it === null ? [] : [[cause, it]])),
          ),
    )
  return (
    <div class="stack" data-priors={closed}>
      <p class="minor">{say.reviewed(closed, REVIEWS_LEAST)}</p>
      {closed >= REVIEWS_LEAST && (
        <>
          <table class="priors">
            <thead>
              <tr>
                {[say.cause, say.usual, say.own, say.found].map((word) => (
                  <th key={word}>{word}</th>
                ))}
              </tr>
            </thead>
            <tbody>
              {priors.map(({ cause, usual, own: it, found }) => (
                <tr key={cause}>
                  <td>{trace.signals[cause as Signal]}</td>
                  <td>{percent(usual)}</td>
                  <td>{percent(it)}</td>
                  <td>{found}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <Press act="ownPriors" onPress={use}>
            {isOwn ? say.useUsual : say.usePriors}
          </Press>
        </>
      )}
    </div>
  )
}
