import { COMMANDS } from '../../machines/commands.ts'
import type { ColourCard } from '../../machines/job/cards.ts'
import type { JobColour } from '../../machines/job/machine.ts'
import { groupIn, rowsIn } from '../forms/draft.ts'
import { FormOf, useFormDraft } from '../forms/form.tsx'
import { type Draft, fieldsOf } from '../forms/spec.ts'
import { worded } from '../ui/parts.tsx'
import * as own from '../words/colour.ts'
import { useOwnWords } from '../words/words.ts'
import { nextCard } from './colourChart.ts'

const FIELDS = fieldsOf(COMMANDS.MeasureColourCard, {
  without: ['job'],
  more: ['variant', 'tint', 'midcoats'],
})
/** The angles that instruments for effect colors give most often; an instrument of one angle has 45. */
const USUAL_DEG = [15, 45, 110]
const NO_LAB = ['', '', '']

type Props = {
  readonly job: string
  readonly colours: readonly JobColour[]
  readonly cards: readonly ColourCard[]
  readonly now: number
}

/** A card's figures as an instrument shows them. The panel's stay for the next card. */
export function MeasureCard({ job, colours, cards, now }: Props) {
  const say = useOwnWords(own)
  const namesOf = (colour: string) =>
    cards.filter((one) => one.colour === colour).map(({ card }) => card)
  const first = colours[0]?.key ?? ''
  const last = cards.at(-1)
  const angles = (last?.angles ?? USUAL_DEG.map((deg) => ({ deg, panel: NO_LAB }))).map(
    ({ deg, panel }) => ({ deg, panel: [...panel], card: NO_LAB }),
  )
  const colour = last?.colour ?? first
  const start = (): Draft => ({ colour, card: nextCard(namesOf(colour)), angles })
  const draft = useFormDraft(`colour.${job}`, start)
  const next = () => {
    const { colour: of = first, card = '', angles: rows } = groupIn(draft.value)
    const names = [...namesOf(String(of)), String(card)]
    // What the shop's levels make of it stands above the form.
    requestAnimationFrame(() =>
      document
        .querySelector(`[data-colour="${of}"] [data-card="${card}"]`)
        ?.scrollIntoView({ block: 'center' }),
    )
    draft.value = {
      colour: of,
      card: nextCard(names),
      angles: rowsIn(rows).map((row) => ({ ...groupIn(row), card: NO_LAB })),
    }
  }
  return (
    <FormOf
      name="colour"
      draft={draft}
      original={start()}
      fields={FIELDS}
      schema={COMMANDS.MeasureColourCard}
      complete={(value) => ({ ...value, job })}
      type="MeasureColourCard"
      data={(value) => value}
      now={now}
      word={say.save}
      fieldWords={{ ...say.fields, ...rowWords(say) }}
      offers={{
        colour: {
          options: worded(
            colours.map(({ key }) => key),
            (key) => [key, colours.find((one) => one.key === key)?.code].filter(Boolean).join(' '),
          ),
        },
      }}
      onSaved={next}
    >
      <p class="minor">{say.alike}</p>
    </FormOf>
  )
}

/** L*, a* and b* of panel and card, in every row. */
const rowWords = ({ row, fields }: typeof own.en): Record<string, string> =>
  Object.fromEntries(
    [0, 1, 2, 3, 4].flatMap((i) =>
      (['panel', 'card'] as const).flatMap((of): [string, string][] => [
        [`angles.${i}.${of}`, (of === 'panel' ? fields.panel : fields.card3) ?? of],
        ...row[of].map((word, n): [string, string] => [`angles.${i}.${of}.${n}`, word]),
      ]),
    ),
  )
