import { isOnItsWay, type Printings } from '../device/usePrinting.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import * as own from '../words/printers.ts'
import { useOwnWords } from '../words/words.ts'

const WHYS = ['wiped', 'lost', 'other'] as const

type Props = {
  readonly prints: Printings
  readonly cup: string
  readonly isFirst: boolean
  readonly labelReadsLate: boolean
}

/**
 * A cup's label on a printer of the shop, and how it goes there. Shows nothing where the shop has none: the
 * device's own dialog stays.
 */
export function NetworkPrint({ prints, cup, isFirst, labelReadsLate }: Props) {
  const say = useOwnWords(own)
  const answer = prints.answer.value
  const printer = prints.printerOf('cup')
  if (answer === null || printer === undefined) return null
  const job = answer.jobs.find((one) => one.kind === 'cup' && one.thing === cup)
  const isOpen = isOnItsWay(job)
  const isOvertaken = job?.trouble?.code === 'overtaken'
  const error = prints.error.value
  const go = (why?: string) =>
    void prints.send({ kind: 'cup', thing: cup, ...(why === undefined ? {} : { why }) })
  const whys = labelReadsLate ? (['late', ...WHYS] as const) : WHYS
  return (
    <section class="stack" data-network-print={job?.step ?? 'idle'}>
      {error && <Sentence>{error === 'away' ? say.away : error.message}</Sentence>}
      {job && !isOvertaken && (
        <p class={job.trouble ? 'sentence' : undefined} role="status">
          {say.steps[job.step]} {job.trouble && say.trouble(job.trouble)}{' '}
          {job.trouble && say.byHand}
        </p>
      )}
      {!isOpen && isFirst && (
        <div class="acts">
          <Press act="printHere" isMain onPress={() => go()}>
            <span>
              {say.printHere}
              <small>{say.printOn(printer.name)}</small>
            </span>
          </Press>
        </div>
      )}
      {!isOpen && !isFirst && (
        <>
          <p class="minor">{say.why}</p>
          <div class="acts">
            {whys.map((why) => (
              <Press
                key={why}
                act={`again-${why}`}
                isMain={why === 'late'}
                onPress={() => go(say.whys[why])}
              >
                {say.whys[why]}
              </Press>
            ))}
          </div>
        </>
      )}
    </section>
  )
}
