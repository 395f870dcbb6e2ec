import type { SoundName } from '../../machines/bell/kinds.ts'
import type { CupView } from '../lanes/cups.ts'

/**
 * The shape beside a bell's word, so that no meaning depends on color alone (WCAG 2.2 SC 1.4.1).
 * Drawn as a path, because none of our fonts has them all.
 */
const PATHS: Record<SoundName, string> = {
  // A triangle to the right: go on.
  A: 'M3 1 15 8 3 15z',
  // An hourglass.
  B1: 'M2 1h12v2.500L9.500 8l4.500 4.500V15H2v-2.500L6.500 8 2 3.500z',
  // An octagon with a bar.
  B2: 'M5 0h6l5 5v6l-5 5H5l-5-5V5zM3.500 6.500v3h9v-3z',
  // A circle with a wedge that closes.
  C1: 'M8 0a8 8 0 1 0 8 8h-3A5 5 0 1 1 8 3zM9.500 0v6.500H16A6.500 6.500 0 0 0 9.500 0z',
  // A closed circle.
  C2: 'M8 0a8 8 0 1 0 0 16A8 8 0 0 0 8 0z',
  // A square with a tick.
  D: 'M0 0h16v16H0zm2.500 2.500v11h11v-11zM4 8l1.500-1.500L7.200 8.200 11 4.500 12.500 6 7.200 11.200z',
}

export const Shape = ({ sound }: { sound: SoundName }) => (
  <svg class="shape" viewBox="0 0 16 16" aria-hidden="true">
    <path fill-rule="evenodd" d={PATHS[sound]} />
  </svg>
)

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
