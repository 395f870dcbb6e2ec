import { useSignal } from '@preact/signals'
import { isPresent } from '../../machines/people/fold.ts'
import { FILTER_WORK, TRAININGS } from '../../machines/records/commands.ts'
import { isTaken, type Sent } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { zoneWord } from '../lanes/zones.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold } from '../ui/parts.tsx'
import * as own from '../words/recordsPage.ts'
import { useOwnWords } from '../words/words.ts'
import { noonOf } from './days.ts'

type Props = { readonly today: string; readonly onSaved: () => void }

/** An id for a name that is in no list of people: the same name has the same. */
const idOf = (name: string): string =>
  name
    .normalize('NFD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .slice(0, 40) || 'one'

const numberOf = (text: string): number => Number(text.replace(',', '.'))

/** Training, filters and solvent, typed in. */
export function TypeRecords({ today, onSaved }: Props) {
  const say = useOwnWords(own)
  return (
    <Fold word={say.record} act="record">
      <Training today={today} onSaved={onSaved} />
      <Filters today={today} onSaved={onSaved} />
      <Solvent onSaved={onSaved} />
    </Fold>
  )
}

const done = (onSaved: () => void, clear: () => void) => (sent: Sent) => {
  if (!isTaken(sent)) return
  clear()
  onSaved()
}

function Training({ today, onSaved }: Props) {
  const { state, format } = useShop()
  const say = useOwnWords(own)
  const { sending, ask } = useCommands()
  const name = useSignal('')
  const kind = useSignal<(typeof TRAININGS)[number]>('refresher')
  const day = useSignal(today)
  const people = Object.entries(state.value?.things.person ?? {}).flatMap(([id, { context }]) =>
    isPresent(context) ? [{ id, name: context.name }] : [],
  )
  const doneMs = noonOf(day.value, format.value)
  const person = people.find((one) => one.name === name.value.trim())?.id ?? idOf(name.value)
  return (
    <section class="stack">
      <h3>{say.training}</h3>
      {people.length > 0 && (
        <Choice
          name="person"
          picked={person}
          options={people.map((one) => ({ value: one.id, word: one.name }))}
          onPick={(id) => {
            name.value = people.find((one) => one.id === id)?.name ?? ''
          }}
        />
      )}
      <Field
        name="who"
        word={say.who}
        value={name.value}
        onInput={(text) => {
          name.value = text
        }}
      />
      <Choice
        name="kind"
        picked={kind.value}
        options={TRAININGS.map((one) => ({ value: one, word: say.kinds[one] }))}
        onPick={(value) => {
          kind.value = value as (typeof TRAININGS)[number]
        }}
      />
      <DayField name="doneOn" word={say.doneOn} day={day} />
      <Press
        act="RecordTraining"
        isOff={sending.value.busy || name.value.trim() === '' || doneMs === null}
        onPress={() =>
          ask('RecordTraining', {
            ...{ person, name: name.value.trim(), kind: kind.value, doneMs: doneMs ?? 0 },
          }).then(
            done(onSaved, () => {
              name.value = ''
            }),
          )
        }
      >
        {say.saveTraining}
      </Press>
      <Answer sending={sending.value} now={doneMs ?? 0} />
    </section>
  )
}

type DayProps = {
  readonly name: string
  readonly word: string
  readonly day: { value: string }
}

function DayField({ name, word, day }: DayProps) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const isWrong = day.value !== '' && noonOf(day.value, format.value) === null
  return (
    <Field
      name={name}
      word={word}
      value={day.value}
      wrong={isWrong ? say.wrongDay(day.value) : null}
      onInput={(text) => {
        day.value = text.trim()
      }}
    />
  )
}

function Filters({ today, onSaved }: Props) {
  const { state, words, format } = useShop()
  const say = useOwnWords(own)
  const { sending, ask } = useCommands()
  const zone = useSignal<string | null>(null)
  const what = useSignal<(typeof FILTER_WORK)[number]>('changed')
  const [day, next, efficiency] = [useSignal(today), useSignal(''), useSignal('')]
  const doneMs = noonOf(day.value, format.value)
  const nextMs = next.value === '' ? undefined : noonOf(next.value, format.value)
  const share = efficiency.value === '' ? undefined : numberOf(efficiency.value) / 100
  const known = state.value
  const zones = known ? Object.keys(known.things.zone) : []
  const isReady =
    zone.value !== null && doneMs !== null && nextMs !== null && !Number.isNaN(share ?? 0)
  return (
    <section class="stack">
      <h3>{say.filters}</h3>
      <Choice
        name="zone"
        word={say.zone}
        picked={zone.value}
        options={zones.map((id) => ({
          value: id,
          word: known ? zoneWord(known, words.value.zones, id) : id,
        }))}
        onPick={(id) => {
          zone.value = id
        }}
      />
      <Choice
        name="what"
        picked={what.value}
        options={FILTER_WORK.map((one) => ({ value: one, word: say.works[one] }))}
        onPick={(value) => {
          what.value = value as (typeof FILTER_WORK)[number]
        }}
      />
      <DayField name="filterOn" word={say.doneOn} day={day} />
      <DayField name="nextOn" word={say.nextOn} day={next} />
      <Field
        name="efficiency"
        word={say.efficiency}
        isNumber
        unit="%"
        value={efficiency.value}
        onInput={(text) => {
          efficiency.value = text
        }}
      />
      <Press
        act="ServiceFilter"
        isOff={sending.value.busy || !isReady}
        onPress={() =>
          ask('ServiceFilter', {
            ...{ zone: zone.value ?? '', what: what.value, doneMs: doneMs ?? 0 },
            ...(typeof nextMs === 'number' ? { nextMs } : {}),
            ...(share === undefined ? {} : { efficiency: share }),
          }).then(
            done(onSaved, () => {
              next.value = ''
              efficiency.value = ''
            }),
          )
        }
      >
        {say.saveFilters}
      </Press>
      <Answer sending={sending.value} now={doneMs ?? 0} />
    </section>
  )
}

function Solvent({ onSaved }: Pick<Props, 'onSaved'>) {
  const say = useOwnWords(own)
  const { sending, ask } = useCommands()
  const [name, ml] = [useSignal(''), useSignal('')]
  return (
    <section class="stack">
      <h3>{say.solvent}</h3>
      <Field
        name="solvent"
        word={say.solventName}
        value={name.value}
        onInput={(text) => {
          name.value = text
        }}
      />
      <Field
        name="solventMl"
        word={say.ml}
        isNumber
        unit="mL"
        value={ml.value}
        onInput={(text) => {
          ml.value = text
        }}
      />
      <Press
        act="UseSolvent"
        isOff={sending.value.busy || name.value.trim() === '' || ml.value.trim() === ''}
        onPress={() =>
          ask('UseSolvent', { solvent: name.value.trim(), ml: numberOf(ml.value) }).then(
            done(onSaved, () => {
              name.value = ''
              ml.value = ''
            }),
          )
        }
      >
        {say.saveSolvent}
      </Press>
      <Answer sending={sending.value} now={0} />
    </section>
  )
}
