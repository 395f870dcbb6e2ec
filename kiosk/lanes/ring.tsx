import type { CupView } from './cups.ts'

/** A cup is drawn as a clock: the dark arc is the pot life that is left. Its volume is text. */
export function Ring({
  left,
  size = 100,
  label,
}: {
  left: number | null
  size?: number
  label?: string
}) {
  const radius = 40
  const whole = 2 * Math.PI * radius
  const shown = left ?? 0
  return (
    <svg class="ring" viewBox="0 0 100 100" width={size} height={size} aria-hidden="true">
      <circle class={left === null ? 'track none' : 'track'} cx="50" cy="50" r={radius} />
      {shown > 0 && (
        <circle
          class="arc"
          cx="50"
          cy="50"
          r={radius}
          stroke-dasharray={`${whole * shown} ${whole}`}
          transform="rotate(-90 50 50)"
        />
      )}
      {label && (
        <text x="50" y="56" text-anchor="middle">
          {label}
        </text>
      )}
    </svg>
  )
}

export const percentLeft = (view: CupView): string =>
  view.left === null ? '' : `${Math.round(view.left * 100)} %`
