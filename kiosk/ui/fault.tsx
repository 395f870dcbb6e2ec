import type { ComponentChildren } from 'preact'
import { useEffect, useErrorBoundary } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { hashOf } from './route.ts'

/**
 * A fault in one screen takes nothing else with it: the frame, the clocks and the bells go on, and
 * the painter sees what to do. Give it a key, so that another screen starts fresh.
 */
export function Guarded({ children }: { children: ComponentChildren }) {
  const { words } = useShop()
  const [fault, again] = useErrorBoundary()
  useEffect(() => {
    if (fault !== undefined) console.error(fault)
  }, [fault])
  if (fault === undefined) return <>{children}</>
  const { board } = words.value
  return (
    <section class="stack fault" role="alert">
      <p class="sentence">{board.fault}</p>
      <p class="minor">{String(fault)}</p>
      <div class="choices">
        <button type="button" class="main" data-act="again" onClick={() => again()}>
          {board.faultAgain}
        </button>
        <a class="button" href={hashOf('wall')} onClick={() => again()}>
          {board.faultWall}
        </a>
      </div>
    </section>
  )
}
