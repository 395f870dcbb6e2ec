import { type Signal, useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'

/** How long a press must last: longer than a slip, short enough not to annoy. */
const HOLD_MS = 1_000

type Props = {
  /** Tells this button from others on the page. */
  readonly act?: string
  readonly onHeld: () => void
  readonly children: ComponentChildren
}

/** A button that has to be held for a second: for what cannot be undone with one more touch. */
export function Hold({ act, onHeld, children }: Props) {
  const held = useSignal(false)
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null)
  const release = () => {
    if (timer.current !== null) clearTimeout(timer.current)
    timer.current = null
    held.value = false
  }
  const press = () => {
    release()
    held.value = true
    timer.current = setTimeout(() => {
      release()
      onHeld()
    }, HOLD_MS)
  }
  useEffect(() => release, [])
  return (
    <button
      type="button"
      class="hold"
      data-act={act}
      data-held={held.value ? '' : undefined}
      onPointerDown={press}
      onPointerUp={release}
      onPointerLeave={release}
      onPointerCancel={release}
      onKeyDown={(e) => {
        if ((e.key === 'Enter' || e.key === ' ') && !e.repeat) press()
      }}
      onKeyUp={release}
      onBlur={release}
    >
      {children}
    </button>
  )
}

type PressProps = {
  /** Tells this button from others on the page. */
  readonly act?: string
  /** What is heard of it, where it shows less. */
  readonly name?: string
  /** What is expected next: drawn largest. */
  readonly isMain?: boolean
  /** Kept away from the others: it takes something back or away. */
  readonly isApart?: boolean
  readonly isOff?: boolean
  /** What it returns is not waited for. */
  readonly onPress: () => unknown
  readonly children: ComponentChildren
}

/** A button that does one thing at a touch. */
export const Press = ({ act, name, isMain, isApart, isOff, onPress, children }: PressProps) => (
  <button
    type="button"
    class={isMain ? 'main' : isApart ? 'apart' : undefined}
    data-act={act}
    aria-label={name}
    disabled={isOff}
    onClick={() => void onPress()}
  >
    {children}
  </button>
)

type ToggleProps = {
  readonly act?: string
  readonly isOpen: Signal<boolean>
  readonly children: ComponentChildren
}

/** A button that shows more, and hides it again. */
export const Toggle = ({ act, isOpen, children }: ToggleProps) => (
  <button
    type="button"
    data-act={act}
    aria-expanded={isOpen.value}
    onClick={() => {
      isOpen.value = !isOpen.value
    }}
  >
    {children}
  </button>
)
