import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { RecordsAnswer } from '../../machines/contract/records.ts'
import { recordSections } from '../../machines/records/table.ts'
import { dayNumber } from '../../machines/shop/calendar.ts'
import { jurisdictions } from '../../machines/trade/vocLimits.ts'
import * as rows from '../../machines/words/records.ts'
import { wrongText } from '../commands/refusalText.ts'
import { useShop } from '../commands/shop.ts'
import { Field } from '../forms/fields.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold, PageHead } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import * as own from '../words/recordsPage.ts'
import { useOwnWords } from '../words/words.ts'
import { dayText } from './days.ts'
import { TypedRecords } from './typedRecords.tsx'
import { TypeRecords } from './typeRecords.tsx'

type Told =
  | { readonly kind: 'told'; readonly answer: RecordsAnswer }
  | { readonly kind: 'wrong'; readonly text: string }
  | { readonly kind: 'away' }

type Asked = { readonly from: string; readonly to: string; readonly place: string }

const pathOf = ({ from, to, place }: Asked, as: string, language: string): string =>
  `/api/records?${new URLSearchParams({ from, to, jurisdiction: place, as, language })}`

/** The first and the last day of a month, some months from another. */
function monthAt(day: string, by: number): Pick<Asked, 'from' | 'to'> {
  const [year = 2026, month = 1] = day.split('-').map(Number)
  const at = year * 12 + month - 1 + by
  const first = `${Math.floor(at / 12)}-${String((at % 12) + 1).padStart(2, '0')}`
  const next = at + 1
  const length =
    dayNumber(Math.floor(next / 12), (next % 12) + 1, 1) -
    dayNumber(Math.floor(at / 12), (at % 12) + 1, 1)
  return { from: `${first}-01`, to: `${first}-${length}` }
}

/** What the shop used and did in a month or any other time. */
export function Records({ kiosk }: ViewProps) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const { title, places } = useOwnWords(rows)
  const now = kiosk.reading.value.nowMs
  const today = dayText(now, format.value)
  const asked = useSignal<Asked>({
    ...monthAt(today, 0),
    place: jurisdictions[0]?.id ?? '',
  })
  const typed = useSignal<Pick<Asked, 'from' | 'to'>>(asked.value)
  const told = useSignal<Told | null>(null)
  const again = useSignal(0)
  const { from, to, place } = asked.value
  useEffect(() => {
    let isWanted = true
    told.value = null
    void askFor(asked.value, (error) =>
      wrongText(error, { words: words.value, format: format.value }),
    ).then((answer) => {
      if (isWanted) told.value = answer
    })
    return () => {
      isWanted = false
    }
  }, [from, to, place, again.value])
  const show = (days: Pick<Asked, 'from' | 'to'>) => {
    typed.value = days
    asked.value = { ...asked.value, ...days }
  }
  const is = told.value
  return (
    <div class="form records">
      <PageHead title={title} back={words.value.jobs.title} backTo={hashOf('jobs')} />
      <div class="acts">
        <Press act="before" onPress={() => show(monthAt(from, -1))}>
          {say.before}
        </Press>
        <Press act="after" onPress={() => show(monthAt(from, 1))}>
          {say.after}
        </Press>
      </div>
      <Fold word={`${from} – ${to}`} act="days">
        {(['from', 'to'] as const).map((key) => (
          <Field
            key={key}
            name={key}
            word={say[key]}
            value={typed.value[key]}
            onInput={(text) => {
              typed.value = { ...typed.value, [key]: text.trim() }
            }}
          />
        ))}
        <Press act="show" isMain onPress={() => show(typed.value)}>
          {say.show}
        </Press>
      </Fold>
      <Choice
        name="place"
        word={say.limits}
        picked={place}
        options={jurisdictions.map(({ id, name }) => ({
          value: id,
          word: places[id]?.name ?? name,
        }))}
        onPick={(value) => {
          asked.value = { ...asked.value, place: value }
        }}
      />
      {is === null && <p class="minor">{say.reading}</p>}
      {is?.kind === 'away' && (
        <p class="sentence" role="status">
          {say.away}
        </p>
      )}
      {is?.kind === 'wrong' && (
        <p class="sentence" role="alert">
          {is.text}
        </p>
      )}
      {is?.kind === 'told' && <Sections answer={is.answer} asked={asked.value} />}
      {is?.kind === 'told' && (
        <TypedRecords
          typed={is.answer.records.typed}
          now={now}
          onVoided={() => {
            again.value += 1
          }}
        />
      )}
      <TypeRecords
        today={today}
        onSaved={() => {
          again.value += 1
        }}
      />
    </div>
  )
}

async function askFor(asked: Asked, say: (error: never) => string): Promise<Told> {
  try {
    const response = await fetch(pathOf(asked, 'json', 'en'))
    const body = await response.json()
    if (response.ok) return { kind: 'told', answer: body as RecordsAnswer }
    return response.status === 400
      ? { kind: 'wrong', text: say(body.error as never) }
      : { kind: 'away' }
  } catch {
    return { kind: 'away' }
  }
}

function Sections({ answer, asked }: { readonly answer: RecordsAnswer; readonly asked: Asked }) {
  const { words, format } = useShop()
  const say = useOwnWords(own)
  const ownRows = useOwnWords(rows)
  const sections = recordSections(answer.records, {
    words: ownRows,
    date: (ms) => dayText(ms, format.value),
  })
  const place = jurisdictions.find(({ id }) => id === asked.place)
  const called = ownRows.places[asked.place]
  return (
    <>
      <p class="sentence" data-not-compliance>
        {ownRows.notCompliance}
      </p>
      <p class="minor">
        {called?.name}: {place?.source}. {called?.basis}. {called?.knowledge}
      </p>
      <div class="acts">
        {(['csv', 'pdf'] as const).map((form) => (
          <a
            class="button"
            key={form}
            data-act={form}
            href={pathOf(asked, form, words.value.locale)}
            download
          >
            {say[form]}
          </a>
        ))}
      </div>
      {sections.map(({ title, rows: lines }) => (
        <section key={title} class="stack">
          <h3>{title}</h3>
          <table>
            <tbody>
              {lines.map(({ name, value, unit, note, isFlagged }, i) => (
                <tr key={`${name} ${unit} ${i}`} data-flagged={isFlagged ? '' : undefined}>
                  <th scope="row">
                    {isFlagged ? '! ' : ''}
                    {name}
                  </th>
                  <td class="digits">
                    {value} {value === '' ? '' : unit}
                  </td>
                  <td class="minor">{note}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      ))}
    </>
  )
}
