import type { Sheet } from '../../machines/sheet/schema.ts'
import { type Curve, sheetCurves } from '../../machines/trade/curves.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { setupIn } from '../words/setupIn.ts'
import { drawing, FRAME, HEIGHT, minutesWord, WIDTH } from './chart.ts'

type Points = readonly { readonly atC: number; readonly minutes: number }[]

/** The sheet's own points of a curve, by its name. */
function ownPoints(sheet: Sheet, name: string): Points {
  if (name === 'cure.air') return sheet.cure.air ?? []
  const own: unknown = sheet[name as keyof Sheet]
  return Array.isArray(own) ? (own as Points) : []
}

/** Every interval of a sheet from 5 to 40 °C: the maker's figures as dots, the curve as a line. */
export function Curves({ sheet }: { sheet: Sheet }) {
  const setup = setupIn(useWords())
  return (
    <section class="curves">
      <h2>{setup.curves}</h2>
      <div class="charts">
        {sheetCurves(sheet).map((curve) => (
          <Chart key={curve.name} curve={curve} own={ownPoints(sheet, curve.name)} />
        ))}
        {typeof sheet.recoatWithin === 'string' && (
          <figure>
            <figcaption>{setup.fields.recoatWithin}</figcaption>
            <p>{setup.choices[sheet.recoatWithin]}</p>
          </figure>
        )}
      </div>
    </section>
  )
}

function Chart({ curve, own }: { curve: Curve; own: Points }) {
  const { words, format } = useShop()
  const setup = setupIn(words.value)
  const isF = format.value.units?.temperature === 'F'
  const drawn = drawing(curve, own, isF)
  const name = setup.fields[curve.name] ?? curve.name
  // For those who hear the page: the two ends and the middle.
  const told = [5, 20, 40]
    .flatMap((c) => curve.points.find((p) => p.atC === c) ?? [])
    .map((p) => setup.curveAt(minutesWord(p.minutes), format.value.temperature(p.atC)))
    .join(', ')
  return (
    <figure data-curve={curve.name}>
      <figcaption>
        {name} <span class="minor">{setup.kinds[curve.kind]}</span>
      </figcaption>
      {drawn === null ? (
        <p>{setup.noWait}</p>
      ) : (
        <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={`${name}: ${told}`}>
          {drawn.yTicks.map((t) => (
            <g key={t.word}>
              <line class="grid" x1={FRAME.left} x2={FRAME.right} y1={t.at} y2={t.at} />
              <text x={FRAME.left - 8} y={t.at + 6} text-anchor="end">
                {t.word}
              </text>
            </g>
          ))}
          {drawn.xTicks.map((t) => (
            <text key={t.word} x={t.at} y={HEIGHT - 12} text-anchor="middle">
              {t.word}
            </text>
          ))}
          <path class="curve" d={drawn.line} />
          {drawn.marks.map((m) => (
            <circle key={m.x} class="own" cx={m.x} cy={m.y} r="6" />
          ))}
        </svg>
      )}
    </figure>
  )
}
