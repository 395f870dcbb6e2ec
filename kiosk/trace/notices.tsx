import type { Draft, Entry } from '../../machines/envelope.ts'
import { noticesOf } from '../../machines/trace/notices.ts'
import type { Traced } from '../../machines/trace/trace.ts'
import { useShop } from '../commands/shop.ts'
import { shortLength } from '../units/format.ts'
import * as own from '../words/traceNotices.ts'
import { useOwnWords } from '../words/words.ts'

type Props = {
  readonly all: Traced
  readonly entries: readonly (Draft | Entry)[]
  readonly now: number
}

/** What the record lacks and what may be off in it, before anything is read from it. */
export function Notices({ all, entries, now }: Props) {
  const { format } = useShop()
  const words = useOwnWords(own)
  const say: own.NoticeSay = {
    length: shortLength,
    time: (ms) => format.value.timeAndDay(ms, now),
  }
  return (
    <>
      {noticesOf(all, entries).map((notice, i) => (
        <p key={`${notice.is} ${i}`} class="sentence" data-notice={notice.is}>
          {own.noticeText(notice, words, say)}
        </p>
      ))}
    </>
  )
}
