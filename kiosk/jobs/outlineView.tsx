import type { BodyType } from '../../machines/trade/panels.ts'
import { useShop } from '../commands/shop.ts'
import { Tick } from '../ui/parts.tsx'
import {
  type Facing,
  type Field,
  fullName,
  type Outline,
  outlineOf,
  placed,
  shortName,
} from './outline.ts'

type Props = {
  readonly body: BodyType
  /** Ids of panels on the body. */
  readonly chosen: readonly string[]
  readonly inJob: readonly string[]
  readonly proposed: readonly string[]
  readonly onTouch: (panel: string) => void
}

const FACINGS: readonly Facing[] = ['left', 'up']

/**
 * The body to be touched. It is drawn twice, lying and standing, and the screen's shape says which one
 * is seen; the fields to touch are there once and lie over either.
 */
export function OutlineView({ body, chosen, inJob, proposed, onTouch }: Props) {
  const { words } = useShop()
  const outline = outlineOf(body)
  const marked = (id: string) =>
    inJob.includes(id)
      ? 'in'
      : chosen.includes(id)
        ? 'chosen'
        : proposed.includes(id)
          ? 'beside'
          : ''
  return (
    <div
      class="outline"
      style={{ '--length': String(outline.length), '--width': String(outline.width) }}
    >
      {FACINGS.map((facing) => (
        <Drawing key={facing} outline={outline} facing={facing} marked={marked} />
      ))}
      <span class="front minor" aria-hidden="true">
        {words.value.jobs.vehicle.front}
      </span>
      {(['left', 'right'] as const).map((side) => (
        <span key={side} class={`side-word ${side} minor`} aria-hidden="true">
          {words.value.jobs.vehicle.sides[side]}
        </span>
      ))}
      {outline.panels.map((field) => (
        <button
          type="button"
          key={field.id}
          class="field-touch"
          data-panel-on={field.id}
          data-slim={isSlim(field) ? '' : undefined}
          data-short={isShort(field) ? '' : undefined}
          data-side={sideOf(field)}
          aria-pressed={chosen.includes(field.id)}
          aria-label={fullName(words.value, field.id)}
          disabled={inJob.includes(field.id)}
          style={boxOf(outline, field)}
          onClick={() => onTouch(field.id)}
        >
          <span class="field-name">
            {chosen.includes(field.id) && <Tick />}
            {shortName(words.value, field.id)}
            {inJob.includes(field.id) && <small>{words.value.jobs.inJob}</small>}
          </span>
        </button>
      ))}
    </div>
  )
}

/** Narrow across the vehicle: on a standing drawing its name runs along. */
const isSlim = ({ left, right }: Field): boolean => right - left < 1.2

/** Short along the vehicle, wide across it: on a horizontal drawing its name is vertical. */
const isShort = ({ from, to, left, right }: Field): boolean =>
  to - from < 1.05 && right - left > 1.5

/** On which side a wheel may be cut out of it. */
const sideOf = ({ left, right }: Field): 'left' | 'right' | undefined =>
  right < 0 ? 'left' : left > 0 ? 'right' : undefined

/** The field in shares of the drawing; the style sheet turns them by the way that the body faces. */
const boxOf = ({ length, width }: Outline, field: Field): Record<string, string> => ({
  '--from': String(field.from / length),
  '--long': String((field.to - field.from) / length),
  '--left': String((field.left + width / 2) / width),
  '--wide': String((field.right - field.left) / width),
})

type DrawingProps = {
  readonly outline: Outline
  readonly facing: Facing
  readonly marked: (id: string) => string
}

const SCALE = 100
const GAP = 4

function Drawing({ outline, facing, marked }: DrawingProps) {
  const { length, width } = outline
  const [w, h] = facing === 'up' ? [width, length] : [length, width]
  const hatch = `hatch-${facing}`
  return (
    <svg
      class={`drawing facing-${facing}`}
      viewBox={`0 0 ${w * SCALE} ${h * SCALE}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <defs>
        <pattern id={hatch} width="16" height="16" patternUnits="userSpaceOnUse">
          <path class="hatch-ground" d="M0 0h16v16H0z" />
          <path class="hatch-line" d="M-4 4 4-4M0 16 16 0M12 20 20 12" />
        </pattern>
      </defs>
      {outline.decor.map((field) => (
        <path
          key={`${field.kind}-${field.from}`}
          class={`decor ${field.kind}`}
          d={pathOf(outline, facing, field)}
        />
      ))}
      {outline.panels.map((field) => (
        <path
          key={field.id}
          class="panel-shape"
          data-marked={marked(field.id)}
          d={pathOf(outline, facing, field)}
          {...(marked(field.id) === 'chosen' ? { style: { fill: `url(#${hatch})` } } : {})}
        />
      ))}
    </svg>
  )
}

/** The shape, drawn in by half of the gap on every side. */
function pathOf(outline: Outline, facing: Facing, field: Field): string {
  const middle = [(field.from + field.to) / 2, (field.left + field.right) / 2] as const
  const drawnIn = (value: number, centre: number) => value * SCALE - Math.sign(value - centre) * GAP
  const points = field.shape.map(([along, side]) => {
    const [x, y] = placed(outline, facing, [along, side])
    const [cx, cy] = placed(outline, facing, middle)
    return `${drawnIn(x, cx).toFixed(1)} ${drawnIn(y, cy).toFixed(1)}`
  })
  return `M${points.join('L')}Z`
}
