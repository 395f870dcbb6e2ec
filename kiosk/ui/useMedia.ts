import { useEffect, useState } from 'preact/hooks'

/** Whether a media query holds, such as `(min-width: 1100px)`; drawn again when that changes. */
export function useMedia(query: string): boolean {
  const [holds, setHolds] = useState(() => matchMedia(query).matches)
  useEffect(() => {
    const list = matchMedia(query)
    const look = () => setHolds(list.matches)
    look()
    list.addEventListener('change', look)
    return () => list.removeEventListener('change', look)
  }, [query])
  return holds
}
