import type { Signal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import type { Draft, Entry } from '../../machines/envelope.ts'
import type { Traced } from '../../machines/trace/trace.ts'
import { useShop } from '../commands/shop.ts'
import { chipOf } from '../lanes/chip.ts'
import { lanesOf } from '../lanes/lanes.ts'
import { Press } from '../ui/buttons.tsx'
import { historyIn } from '../words/historyIn.ts'
import { timelineIn } from '../words/timeline.ts'
import { traceIn } from '../words/traceIn.ts'
import type { Mark } from './mark.ts'
import { lengthText, markName, markNumbers } from './say.ts'
import { bellsThen, cupsThen, gunsThen } from './then.ts'

const MINUTE_MS = 60_000

/** What was known of the job at a moment. */
type Then = {
  /** UTC ms. */
  readonly at: number
  readonly known: readonly (Draft | Entry)[]
  readonly all: Traced
  /** What the log came to know of it afterwards. */
  readonly later: readonly Mark[]
}

type Props = {
  readonly from: number
  readonly to: number
  /** UTC ms; null for all that is known now. */
  readonly moment: Signal<number | null>
  readonly then: Then | null
}

/** Any moment again: what the Wall said then, by what was recorded by then. */
export function MomentView({ from, to, moment, then }: Props) {
  const { words, format } = useShop()
  const trace = traceIn(words.value)
  const timeline = timelineIn(words.value)
  const at = moment.value
  const go = (until: number) => {
    moment.value = Math.min(to, Math.max(from, until))
  }
  return (
    <section class="stack">
      <h2>{trace.moment}</h2>
      <input
        type="range"
        class="trace-moment"
        aria-label={trace.moment}
        aria-valuetext={at === null ? trace.momentNow : format.value.timeAndDay(at, to)}
        min={from}
        max={to}
        step={MINUTE_MS}
        value={at ?? to}
        onInput={(e) => go(Number(e.currentTarget.value))}
      />
      <div class="acts" data-repeat>
        <Press act="minuteBack" onPress={() => go((at ?? to) - MINUTE_MS)}>
          {timeline.minuteBack}
        </Press>
        <Press act="minuteOn" isOff={at === null} onPress={() => go((at ?? to) + MINUTE_MS)}>
          {timeline.minuteOn}
        </Press>
        <Press
          act="momentNow"
          isOff={at === null}
          onPress={() => {
            moment.value = null
          }}
        >
          {trace.momentNow}
        </Press>
      </div>
      {then && <Standing then={then} to={to} />}
    </section>
  )
}

function Standing({ then, to }: { readonly then: Then; readonly to: number }) {
  const { words, format } = useShop()
  const trace = traceIn(words.value)
  const timeline = timelineIn(words.value)
  const { at, known, all, later } = then
  const { state, panels } = all
  const say = { words: words.value, format: format.value }
  const time = format.value.time
  const used = panels.flatMap(({ coats }) => coats.flatMap(({ gun }) => gun ?? []))
  const end = (endsAt: number | null) =>
    endsAt === null
      ? timeline.noEnd
      : endsAt <= at
        ? timeline.overSince(time(endsAt))
        : timeline.until(time(endsAt), lengthText(endsAt - at))
  return (
    <>
      <p class="sentence" data-moment>
        {format.value.timeAndDay(at, to)}, {trace.knownThen}
        {later.length > 0 ? `; ${timeline.toldLater(later.length)}` : ''}
      </p>
      {later.length > 0 && (
        // Boxes of several lie over one another: what they are is told here, and in the table.
        <Group word={timeline.knownLater}>
          {later.map((mark) => (
            <Line
              key={mark.entry}
              mark={{ 'data-later': mark.what }}
              name={`${time(mark.from)} ${markName(mark, say)}`}
            >
              {markNumbers(mark, say)}
            </Line>
          ))}
        </Group>
      )}
      <Group word={timeline.lanesThen}>
        {lanesOf(state, at).map((lane) => {
          const { big, small } = chipOf(lane, words.value, at)
          return (
            <Line key={lane.panel} mark={{ 'data-lane': lane.panel }} name={lane.name}>
              {small} · {big}
            </Line>
          )
        })}
      </Group>
      <Group word={trace.cups}>
        {cupsThen(state).map(({ id, name, isEmpty, endsAt }) => (
          <Line key={id} mark={{ 'data-cup': id }} name={`${id.slice(0, 4)} ${name}`}>
            {isEmpty ? timeline.emptied : end(endsAt)}
          </Line>
        ))}
      </Group>
      <Group word={trace.guns}>
        {gunsThen(state, [...new Set(used)]).map(({ id, called, name, rinsedOf, endsAt }) => (
          <Line key={id} mark={{ 'data-gun': id }} name={called}>
            {name !== null
              ? `${name}, ${end(endsAt)}`
              : rinsedOf !== null
                ? timeline.rinsed(rinsedOf)
                : timeline.clean}
          </Line>
        ))}
      </Group>
      <Group word={trace.bells}>
        {bellsThen(known).map(({ key, bell, rangAt, answer, answeredAt }) => (
          <Line
            key={key}
            mark={{ 'data-bell': key }}
            name={historyIn(words.value).bells[bell] ?? bell}
          >
            {timeline.rang(time(rangAt))},{' '}
            {answeredAt === null
              ? timeline.unanswered
              : answer === 'BellSnoozed'
                ? timeline.snoozed(time(answeredAt))
                : timeline.answered(time(answeredAt))}
          </Line>
        ))}
      </Group>
    </>
  )
}

type GroupProps = { readonly word: string; readonly children: readonly ComponentChildren[] }

function Group({ word, children }: GroupProps) {
  const { words } = useShop()
  return (
    <div>
      <h3>{word}</h3>
      {children.length === 0 && <p class="minor">{timelineIn(words.value).noneThen}</p>}
      <ul class="rows">{children}</ul>
    </div>
  )
}

type LineProps = {
  readonly mark: Readonly<Record<`data-${string}`, string>>
  readonly name: string
  readonly children: ComponentChildren
}

const Line = ({ mark, name, children }: LineProps) => (
  <li class="row" {...mark}>
    <strong>{name}</strong>
    <span>{children}</span>
  </li>
)
