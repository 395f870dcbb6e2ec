import { type ReadonlySignal, useSignal } from '@preact/signals'
import type { RefObject } from 'preact'
import { useEffect } from 'preact/hooks'

/** Of a row less than this much in sight counts as not seen. */
const SEEN_SHARE = 0.5

/**
 * How many of a list's rows lie below what the screen shows: nothing is hidden without a word.
 * @param rows tells when the list has other rows than before
 */
export function useBelow(
  list: RefObject<HTMLElement | null>,
  rows: string,
): ReadonlySignal<number> {
  const below = useSignal(0)
  useEffect(() => {
    const items = [...(list.current?.children ?? [])]
    const seen = new Set<Element>()
    const observer = new IntersectionObserver(
      (changes) => {
        for (const { target, intersectionRatio } of changes) {
          if (intersectionRatio >= SEEN_SHARE) seen.add(target)
          else seen.delete(target)
        }
        below.value = items.length - 1 - items.findLastIndex((one) => seen.has(one))
      },
      { threshold: SEEN_SHARE },
    )
    for (const item of items) observer.observe(item)
    if (items.length === 0) below.value = 0
    return () => observer.disconnect()
  }, [rows])
  return below
}
