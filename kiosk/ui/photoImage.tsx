import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { useOutbox } from '../commands/outboxContext.ts'
import { pictureOf } from '../commands/picture.ts'

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
