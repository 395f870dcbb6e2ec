import { type ColourCard, type Levels, verdictOf, worstOf } from '../../machines/job/cards.ts'
import type { JobColour } from '../../machines/job/machine.ts'
import { useShop } from '../commands/shop.ts'
import type { Commands } from '../commands/useCommands.ts'
import { Press } from '../ui/buttons.tsx'
import { Tick } from '../ui/parts.tsx'
import * as own from '../words/colour.ts'
import { useOwnWords } from '../words/words.ts'
import { anglesOf, drawing, FRAME, HEIGHT, WIDTH } from './colourChart.ts'

type Props = {
  readonly job: string
  readonly colour: JobColour
  readonly cards: readonly ColourCard[]
  readonly levels: Levels | undefined
  readonly commands: Commands
}

/** The cards of a color: by angle as a picture, then each with what the shop's levels make of it. */
export function Cards({ job, colour, cards, levels, commands }: Props) {
  const say = useOwnWords(own)
  const { format } = useShop()
  const name = [colour.key, colour.code, colour.variant].filter(Boolean).join(' ')
  const said = (card: ColourCard): string => {
    const worst = worstOf(card)
    const at = card.angles.find(({ deltaE00 }) => deltaE00 === worst)?.deg ?? 0
    return [
      say.worst(format.value.number(worst, 1), format.value.number(at, 0)),
      card.variant === undefined ? '' : say.variantOf(card.variant),
      card.tint === undefined ? '' : say.tintOf(card.tint),
      card.midcoats === undefined ? '' : say.midcoatsOf(card.midcoats),
    ]
      .filter((text) => text !== '')
      .join(' · ')
  }
  return (
    <section class="stack" data-colour={colour.key}>
      <h3>{name}</h3>
      {cards.length === 0 ? (
        <div class="empty">
          <p>
            <b>{say.none}</b>
          </p>
          <p>{say.noneHint}</p>
        </div>
      ) : (
        <Chart name={name} cards={cards} levels={levels} />
      )}
      <ul class="rows">
        {cards.map((card) => {
          const verdict = verdictOf(worstOf(card), levels)
          return (
            <li class="colour-card" key={card.card} data-card={card.card} data-verdict={verdict}>
              <div>
                <b>
                  {card.isChosen && <Tick />} {say.cardName(card.card)}
                  {verdict !== null && <span class="verdict">{say.verdicts[verdict]}</span>}
                </b>
                <span class="minor">{said(card)}</span>
              </div>
              {card.isChosen ? (
                <span class="minor">{say.chosen}</span>
              ) : (
                <Press
                  act="ChooseColourCard"
                  isOff={commands.sending.value.busy}
                  onPress={() =>
                    void commands.ask('ChooseColourCard', {
                      job,
                      colour: colour.key,
                      card: card.card,
                    })
                  }
                >
                  <span>
                    {say.choose}
                    {card.midcoats !== undefined && <small>{say.chooseSets(card.midcoats)}</small>}
                  </span>
                </Press>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

type ChartProps = {
  readonly name: string
  readonly cards: readonly ColourCard[]
  readonly levels: Levels | undefined
}

/** Each card's letter at each of its angles; the shop's levels as two lines. */
function Chart({ name, cards, levels }: ChartProps) {
  const say = useOwnWords(own)
  const { format } = useShop()
  const drawn = drawing(cards, levels)
  const figure = (card: ColourCard, deg: number): string => {
    const found = card.angles.find((one) => one.deg === deg)
    return found === undefined ? '–' : format.value.number(found.deltaE00, 1)
  }
  const degs = anglesOf(cards)
  return (
    <figure class="colour-chart">
      <figcaption class="minor">{say.chart(name)}</figcaption>
      <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
        {drawn.yTicks.map((tick) => (
          <g key={tick.value}>
            <line class="grid" x1={FRAME.left} x2={FRAME.right} y1={tick.at} y2={tick.at} />
            <text x={FRAME.left - 10} y={tick.at + 6} text-anchor="end">
              {format.value.number(tick.value, tick.value % 1 === 0 ? 0 : 1)}
            </text>
          </g>
        ))}
        {drawn.xTicks.map((tick) => (
          <text key={tick.value} x={tick.at} y={HEIGHT - 8} text-anchor="middle">
            {say.angle(format.value.number(tick.value, 0))}
          </text>
        ))}
        {drawn.levels !== null &&
          (['match', 'blend'] as const).map((level) => (
            <g key={level}>
              <line
                class="level"
                x1={FRAME.left}
                x2={FRAME.right}
                y1={drawn.levels?.[level]}
                y2={drawn.levels?.[level]}
              />
              <text x={FRAME.right + 8} y={(drawn.levels?.[level] ?? 0) + 6}>
                {say[level]}
              </text>
            </g>
          ))}
        {drawn.lines.map((line) => (
          <path
            key={line.card}
            class={line.isChosen ? 'card-line chosen' : 'card-line'}
            d={line.d}
          />
        ))}
        {drawn.marks.map((mark) => (
          <g
            key={`${mark.card}-${mark.x}`}
            class={mark.isChosen ? 'card-mark chosen' : 'card-mark'}
          >
            <circle cx={mark.x} cy={mark.y} r="12" />
            <text x={mark.x} y={mark.y + 6} text-anchor="middle">
              {mark.card.slice(0, 2)}
            </text>
          </g>
        ))}
      </svg>
      <table class="colour-table">
        <thead>
          <tr>
            <th scope="col">{say.scale}</th>
            {degs.map((deg) => (
              <th scope="col" key={deg}>
                {say.angle(format.value.number(deg, 0))}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {cards.map((card) => (
            <tr key={card.card}>
              <th scope="row">{card.card}</th>
              {degs.map((deg) => (
                <td class="digits" key={deg}>
                  {figure(card, deg)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </figure>
  )
}
