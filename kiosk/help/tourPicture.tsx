import type { ComponentChildren } from 'preact'
import { useShop } from '../commands/shop.ts'
import type { Words } from '../words/en.ts'

/**
 * A Wall in a few lines, in the words of the real one: two panels, what rings, a key, cups and what comes next.
 * The place that a step of the tour is about is framed, the rest is faint.
 */

const WIDTH = 400
const HEIGHT = 372

type Place = { readonly x: number; readonly y: number; readonly width: number; height: number }

/** Where each step of the tour looks, in the order of its words. */
const PLACES: readonly Place[] = [
  { x: 4, y: 36, width: 392, height: 58 },
  { x: 4, y: 92, width: 392, height: 34 },
  { x: 4, y: 128, width: 392, height: 118 },
  { x: 4, y: 316, width: 392, height: 52 },
  { x: 4, y: 246, width: 392, height: 70 },
]

export function TourPicture({ step, title }: { readonly step: number; readonly title: string }) {
  const { words, format } = useShop()
  const { board, jobs, stage, wall } = words.value
  const [hood, door] = ['hood', 'rear-door'].map((id) => jobs.vehicle.panels[id]?.full ?? id)
  const place = PLACES[step] ?? PLACES[0]
  const { start } = words.value.act
  return (
    <svg class="tour-picture" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={title}>
      <Part isMarked={false}>
        <text x="8" y="24" class="large">
          9:41
        </text>
        <text x="90" y="22">
          {format.value.temperature(21)} · {format.value.humidity(0.45)}
        </text>
      </Part>
      <Part isMarked={step === 0}>
        <text x="14" y="62" class="large">
          {hood}
        </text>
        <text x="14" y="82">
          {wall.coats(stage.clear, 1, 2)}
        </text>
        <Chip y={42} big="4:12" small={wall.toCoat(stage.clear, 2)} />
      </Part>
      <Part isMarked={step === 1}>
        <rect class="coat" x="70" y="102" width="18" height="16" />
        <text x="74" y="115" class="letter">
          {letter(words.value)}
        </text>
        <path class="flash" d="M88 110h140" />
        <rect class="open" x="228" y="104" width="150" height="12" />
        <path class="now" d="M160 96v28" />
      </Part>
      <Part isMarked={step === 2}>
        <text x="14" y="156" class="large">
          {door}
        </text>
        <text x="14" y="176">
          {wall.coats(stage.base, 1, 2)}
        </text>
        <Chip y={136} big={wall.coatNow(stage.base, 2)} small={wall.mayGoOn} />
        <rect class="key" x="10" y="198" width="380" height="42" rx="6" />
        <text x="200" y="226" class="large on-key" text-anchor="middle">
          {start(stage.base, 2)}
        </text>
      </Part>
      <Part isMarked={step === 4}>
        <Cup x={32} left={0.75} life="38 min" ratio="2:1" />
        <Cup x={150} left={0.3} life="12 min" ratio="4:1" />
        <text x="262" y="266">
          {wall.next}
        </text>
        <text x="262" y="286">
          9:45 {hood}
        </text>
        <text x="262" y="306">
          9:53 {board.cup('M2')}
        </text>
      </Part>
      <Part isMarked={step === 3}>
        <g class="bell" data-sound="A">
          <rect class="bell-box" x="10" y="322" width="380" height="40" rx="6" />
          <path class="on-bell" d="M20 332l18 10-18 10z" />
          <text x="48" y="348" class="on-bell">
            {short(`${door ?? ''}: ${words.value.bell.coatReady}`)}
          </text>
          <rect class="ok" x="332" y="328" width="50" height="28" rx="5" />
          <text x="357" y="348" class="on-ok" text-anchor="middle">
            {words.value.act.acknowledge}
          </text>
        </g>
      </Part>
      {place && <rect class="tour-mark" {...place} rx="8" />}
    </svg>
  )
}

const letter = (words: Words): string => words.letter.clear ?? ''

/** As much of a bell's sentence as the drawn card holds. */
const LINE_MOST = 34
const short = (text: string): string =>
  text.length > LINE_MOST ? `${text.slice(0, LINE_MOST - 1).trimEnd()}…` : text

type PartProps = { readonly isMarked: boolean; readonly children: ComponentChildren }

const Part = ({ isMarked, children }: PartProps) => (
  <g class={isMarked ? undefined : 'faint'}>{children}</g>
)

type ChipProps = { readonly y: number; readonly big: string; readonly small: string }

const Chip = ({ y, big, small }: ChipProps) => (
  <>
    <rect class="chip-box" x="222" y={y} width="168" height="46" rx="6" />
    <text x="306" y={y + 24} class="large" text-anchor="middle">
      {big}
    </text>
    <text x="306" y={y + 40} text-anchor="middle">
      {small}
    </text>
  </>
)

const RADIUS = 18

type CupProps = {
  readonly x: number
  /** What is left of its pot life, 1 to 0. */
  readonly left: number
  readonly life: string
  readonly ratio: string
}

function Cup({ x, left, life, ratio }: CupProps) {
  const whole = 2 * Math.PI * RADIUS
  return (
    <>
      <circle class="ring-track" cx={x} cy="280" r={RADIUS} />
      <circle
        class="ring-left"
        cx={x}
        cy="280"
        r={RADIUS}
        stroke-dasharray={`${whole * left} ${whole}`}
        transform={`rotate(-90 ${x} 280)`}
      />
      <text x={x + 26} y="278" class="bold">
        {life}
      </text>
      <text x={x + 26} y="296" class="small">
        {ratio}
      </text>
    </>
  )
}
