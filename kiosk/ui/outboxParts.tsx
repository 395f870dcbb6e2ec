import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { pictureOf } from '../commands/picture.ts'
import { panelsIn } from '../commands/queuedCommand.ts'
import { useOutbox, useShop } from '../commands/shop.ts'
import { hashOf } from './route.ts'

/** Shows on every screen that the server is away, that this device stores nothing, or what was not sent. */
export function OutboxStatus() {
  const { link, words } = useShop()
  const out = useOutbox()
  const queue = out?.queue.value ?? []
  const storage = out?.storage.value ?? null
  const isAway = link.value === 'away'
  const notKnown = out?.notKnown.value.length ?? 0
  const refused = queue.filter(({ trouble }) => trouble !== null).length - notKnown
  const unsent = queue.length - refused - notKnown
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
        <a
          class="button"
          href={hashOf('unsent')}
          data-unsent={unsent}
          data-refused={refused}
          data-not-known={notKnown}
        >
          {[
            unsent > 0 ? outbox.unsent(unsent) : '',
            refused > 0 ? `! ${outbox.refused(refused)}` : '',
            notKnown > 0 ? `! ${outbox.needUpdate(notKnown)}` : '',
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

type Props = { readonly photo: string; readonly alt: string; readonly class?: string }

/** A picture by its name: from this device while it waits here, from the server afterwards. */
export function PhotoImage({ photo, alt, ...rest }: Props) {
  const out = useOutbox()
  const here = useSignal<string | null>(null)
  const isHere = out?.queue.value.some(({ command }) => pictureOf(command) === photo) ?? false
  useEffect(() => {
    if (!isHere || out === null) return
    let isOver = false
    let url: string | null = null
    void out.picture(photo).then((bytes) => {
      if (isOver || bytes === null) return
      url = URL.createObjectURL(new Blob([bytes]))
      here.value = url
    })
    return () => {
      isOver = true
      here.value = null
      if (url !== null) URL.revokeObjectURL(url)
    }
  }, [photo, isHere, out])
  const src = here.value ?? (isHere ? undefined : `/api/photos/${photo}`)
  return <img {...rest} src={src} alt={alt} loading="lazy" />
}

/** Hands a text or a picture to the browser as a download of that name. */
export function saveFile(name: string, what: string | Blob, type: string): void {
  const url = URL.createObjectURL(new Blob([what], { type }))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  URL.revokeObjectURL(url)
}
