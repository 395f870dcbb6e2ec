import { useEffect, useRef } from 'preact/hooks'

/**
 * Whether what sent something is still on the screen when its answer comes. A person who has gone on meanwhile,
 * to another screen or another panel, is not fetched back.
 */
export function useHere(): () => boolean {
  const isHere = useRef(true)
  useEffect(
    () => () => {
      isHere.current = false
    },
    [],
  )
  return () => isHere.current
}
