import { scaleLinear } from 'd3-scale'
import { traceIn } from '../words/traceIn.ts'
import type { Mark } from './mark.ts'
import { flagsText, markName, markNumbers, type Say } from './say.ts'

/** One mark of the timeline, in its row. */

const BAR = { top: 26, height: 24 }
const STRIP = 8
/** Narrower than this a bar has no room for words. */
const WORD_PX = 46

/** Where a dew margin stands in its row, px: from none at the bottom to 10 °C at the top and above. */
export const dewY = scaleLinear([0, 10], [66, 28]).clamp(true)

type MarkProps = {
  readonly mark: Mark
  readonly from: number
  readonly to: number
  /** Of the drawing, px. */
  readonly width: number
  readonly isPicked: boolean
  readonly say: Say
}

const MOMENTS: readonly Mark['kind'][] = ['bell', 'work', 'void']

/** Meaning is in the pattern, the outline and the words: none of it is in a color. */
export function MarkView({ mark, from, to, width, isPicked, say }: MarkProps) {
  const { kind, flags } = mark
  const isBroken = flags.some((f) => f !== 'estimated' && f !== 'notRecorded' && f !== 'voided')
  const title = [markName(mark, say), markNumbers(mark, say), flagsText(mark, say)]
    .filter(Boolean)
    .join(' · ')
  const wide = Math.max(3, to - from)
  const { top, height } = BAR
  const data = { 'data-mark': kind, 'data-entry': mark.entry ?? undefined }
  if (MOMENTS.includes(kind)) {
    return (
      <g {...data}>
        <title>{title}</title>
        <path
          d={
            kind === 'void'
              ? `M${from - 6} 32L${from + 6} 44M${from + 6} 32L${from - 6} 44`
              : `M${from} ${top + height + 2}l-6 10h12z`
          }
          fill={isBroken ? 'var(--ink)' : 'none'}
          stroke="var(--ink)"
          stroke-width={isPicked ? 5 : 2}
        />
      </g>
    )
  }
  if (kind === 'dew') {
    const y = dewY(mark.numbers?.[0] ?? 0)
    return (
      <g {...data}>
        <title>{title}</title>
        <path d={`M${from} ${y}H${to}`} stroke="var(--ink)" stroke-width={isBroken ? 7 : 3} />
        {to - from > WORD_PX && (
          <text x={from + 3} y={y > 44 ? y - 6 : y + 16} class="trace-minor">
            {say.format.degrees(mark.numbers?.[0] ?? 0)}
          </text>
        )}
      </g>
    )
  }
  const fill = {
    band: 'url(#trace-allowed)',
    past: 'url(#trace-past)',
    gap: 'none',
    wait: 'var(--raised)',
    air: 'var(--track)',
    cup: 'var(--track)',
  } as Partial<Record<Mark['kind'], string>>
  const word =
    kind === 'coat' || kind === 'cure'
      ? markName(mark, say)
      : kind === 'air'
        ? markNumbers(mark, say)
        : kind === 'gap'
          ? traceIn(say.words).notRecorded
          : ''
  const isThin = kind === 'use'
  const isOpen = flags.includes('estimated') || kind === 'gap' || kind === 'later'
  // What was allowed is a strip below what was done: bars never hide it.
  const isStrip = kind === 'band' || kind === 'wait' || kind === 'movers'
  return (
    <g {...data}>
      <title>{title}</title>
      <rect
        x={from}
        y={isStrip ? top + height : isThin ? top + 6 : top}
        width={wide}
        height={isStrip ? STRIP : isThin ? height - 12 : height}
        fill={isOpen ? 'none' : (fill[kind] ?? 'var(--bar)')}
        stroke={isBroken || isPicked ? 'var(--ink)' : 'var(--muted)'}
        stroke-width={isPicked ? 6 : isBroken ? 4 : kind === 'band' ? 0 : 1}
        stroke-dasharray={isOpen ? '6 4' : undefined}
      />
      {word !== '' && wide > WORD_PX && (
        <text
          x={from + 5}
          y={top + 17}
          class={kind === 'air' || isOpen ? 'trace-minor' : 'trace-on'}
        >
          {word.slice(0, Math.floor(wide / 8))}
        </text>
      )}
      {kind === 'coat' && isBroken && (
        // In the right half they end at the mark: at the edge they were cut off.
        <text
          x={from > width / 2 ? Math.min(width, to) : Math.max(0, from - 4)}
          y={top + height + 20}
          text-anchor={from > width / 2 ? 'end' : 'start'}
          class="trace-minor"
        >
          ! {markNumbers(mark, say)}
        </text>
      )}
    </g>
  )
}
