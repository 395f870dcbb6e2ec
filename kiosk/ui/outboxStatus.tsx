import { useOutbox } from '../commands/outboxContext.ts'
import { panelsIn } from '../commands/queuedCommand.ts'
import { useShop } from '../commands/shop.ts'
import { hashOf } from './route.ts'

/** Shows on every screen that the server is away, that this device stores nothing, or what was not sent. */
export function OutboxStatus() {
  const { link, words } = useShop()
  const out = useOutbox()
  const queue = out?.queue.value ?? []
  const storage = out?.storage.value ?? null
  const isAway = link.value === 'away'
  const refused = queue.filter(({ trouble }) => trouble !== null).length
  const unsent = queue.length - refused
  if (!isAway && storage === null && queue.length === 0) return null
  const { outbox } = words.value
  return (
    <div class="outbox-status">
      {isAway && storage === null && (
        <p class="away" role="status">
          {outbox.away}
        </p>
      )}
      {storage !== null && (
        <p class="storage" role="status">
          {outbox[storage]}
        </p>
      )}
      {queue.length > 0 && (
        <a class="button" href={hashOf('unsent')} data-unsent={unsent} data-refused={refused}>
          {[
            unsent > 0 ? outbox.unsent(unsent) : '',
            refused > 0 ? `! ${outbox.refused(refused)}` : '',
          ]
            .filter((text) => text !== '')
            .join(' · ')}
        </a>
      )}
    </div>
  )
}

/** Words beside a lane whose latest is not in the log yet; empty for the others. */
export function useUnsentMark(): (panel: string) => string {
  const { words } = useShop()
  const queue = useOutbox()?.queue.value ?? []
  const panels = panelsIn(queue.filter(({ trouble }) => trouble === null))
  return (panel) => (panels.has(panel) ? words.value.outbox.mark : '')
}

/** Whether an entry is of something that waits here: it is not in the log yet. */
export function useIsUnsent(): (entry: string) => boolean {
  const queue = useOutbox()?.queue.value ?? []
  const waiting = new Set(queue.map(({ command }) => command.id))
  // An entry's id is that of its command and a count.
  return (entry) => waiting.has(entry.slice(0, entry.lastIndexOf('.')))
}
