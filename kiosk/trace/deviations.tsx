import type { Deviation } from '../../machines/trace/deviations.ts'
import { useShop } from '../commands/shop.ts'
import { reasonText } from '../ui/reasonText.ts'
import { traceIn } from '../words/traceIn.ts'
import { deviationName, excessText, recordedText, whereText } from './say.ts'
import { Settle } from './settle.tsx'

type Props = {
  readonly deviations: readonly Deviation[]
  /** Entries that came late, with when. */
  readonly late: ReadonlyMap<string, number>
  readonly now: number
  readonly onShow: (entry: string, at: number) => void
  /** The job, where something may be decided about it; not on the page that it is exported as. */
  readonly job?: string | undefined
  readonly onSaved?: () => void
}

/** Each broken limit, override and void: what, where, by how much, and what was decided. */
export function Deviations({ deviations, late, now, onShow, job, onSaved = () => {} }: Props) {
  const { words, format } = useShop()
  const say = { words: words.value, format: format.value }
  const trace = traceIn(words.value)
  // What nobody measured is a gap on the timeline, not a limit that was broken.
  const told = deviations.filter(({ kind }) => kind !== 'notJudged')
  const recorded = ({ entry, at }: Deviation): string => {
    const recordedAt = late.get(entry)
    return recordedAt === undefined ? '' : recordedText(recordedAt, at, say)
  }
  return (
    <section class="stack">
      <h2>{trace.deviations}</h2>
      {told.length === 0 && <p class="sentence">{trace.noDeviations}</p>}
      <ol class="rows">
        {told.map((one, i) => (
          <li key={`${one.entry} ${one.code} ${i}`}>
            <button
              type="button"
              class="row"
              data-deviation={one.code}
              data-voided={one.isVoided ? '' : undefined}
              onClick={() => onShow(one.entry, one.at)}
            >
              <span>
                <strong>
                  {trace.kinds[one.kind]}: {deviationName(one, say)} {excessText(one, say)}
                </strong>
                <small>
                  {[
                    format.value.timeAndDay(one.at, now),
                    recorded(one),
                    whereText(one, say),
                    one.isVoided ? trace.voided : trace.dispositions[one.disposition.is],
                    one.reason === null
                      ? ''
                      : `${trace.reason}: ${reasonText(one.reason, words.value)}`,
                  ]
                    .filter((part) => part !== '')
                    .join(' · ')}
                </small>
              </span>
            </button>
            {job !== undefined && !one.isVoided && one.kind !== 'void' && (
              // Decided, it is folded up again.
              <Settle
                key={one.disposition.entry ?? ''}
                {...{ job, deviation: one, now, onSaved }}
              />
            )}
          </li>
        ))}
      </ol>
    </section>
  )
}
