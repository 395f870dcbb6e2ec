import type { RefObject } from 'preact'
import { useLayoutEffect, useRef } from 'preact/hooks'

const CAN_FOCUS = 'button, a[href], input, select, textarea, summary'

/**
 * What stands over a screen, or at its side, while it is open: it is reached by keys, Escape closes it, and what had
 * the focus gets it back. Where something else stands over the whole screen meanwhile, the key is of that.
 * @param onClose what closes it
 * @param takesFocus whether what is to do now stands in it
 * @returns of the box, which takes a focus (tabIndex -1); Tab stays within one that is modal
 */
export function useOver<T extends HTMLElement>(
  onClose: () => void,
  takesFocus = true,
): RefObject<T | null> {
  const box = useRef<T>(null)
  const close = useRef(onClose)
  close.current = onClose
  useLayoutEffect(() => {
    const own = box.current
    const before = document.activeElement
    if (takesFocus) own?.focus({ preventScroll: true })
    const onKey = (event: KeyboardEvent) => {
      const modals = [...document.querySelectorAll('[aria-modal=true]')]
      if (modals.some((other) => other !== own)) return
      if (event.key === 'Escape') close.current()
      if (event.key === 'Tab' && own && modals.includes(own)) stayIn(own, event)
    }
    document.addEventListener('keydown', onKey)
    return () => {
      document.removeEventListener('keydown', onKey)
      // Who has gone on to something else meanwhile is not fetched back.
      const isHere =
        own?.contains(document.activeElement) || document.activeElement === document.body
      if (isHere && before instanceof HTMLElement) before.focus({ preventScroll: true })
    }
  }, [])
  return box
}

/** Tab goes on from the last to the first, and back. */
function stayIn(box: HTMLElement, event: KeyboardEvent): void {
  const all = [...box.querySelectorAll<HTMLElement>(CAN_FOCUS)]
  const [first, last] = [all[0], all.at(-1)]
  const at = document.activeElement
  const isOut = !box.contains(at)
  const to = event.shiftKey
    ? (at === first || at === box || isOut) && last
    : (at === last || isOut) && first
  if (!to) return
  event.preventDefault()
  to.focus()
}
