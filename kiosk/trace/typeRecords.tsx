import { type Signal, useSignal } from '@preact/signals'
import { isPresent } from '../../machines/people/fold.ts'
import { FILTER_WORK, TRAININGS } from '../../machines/records/commands.ts'
import { useShop } from '../commands/shop.ts'
import { zoneWord } from '../lanes/zones.ts'
import { Choice, Fold } from '../ui/parts.tsx'
import * as own from '../words/recordsPage.ts'
import { useOwnWords } from '../words/words.ts'
import { noonOf } from './days.ts'
import { SaveIt, Typed } from './saveIt.tsx'

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

function Training({ today, onSaved }: Props) {
  const { state, format } = useShop()
  const say = useOwnWords(own)
  const name = useSignal('')
  const kind = useSignal<(typeof TRAININGS)[number]>('refresher')
  const day = useSignal(today)
  const people = Object.entries(state.value?.things.person ?? {}).flatMap(([id, { context }]) =>
    isPresent(context) ? [{ id, name: context.name }] : [],
  )
  const doneMs = noonOf(day.value, format.value)
  const typed = name.value.trim()
  const person = people.find((one) => one.name === typed)?.id ?? idOf(name.value)
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
      <Typed name="who" word={say.who} of={name} />
      <Choice
        name="kind"
        picked={kind.value}
        options={TRAININGS.map((one) => ({ value: one, word: say.kinds[one] }))}
        onPick={(value) => {
          kind.value = value as (typeof TRAININGS)[number]
        }}
      />
      <DayField name="doneOn" word={say.doneOn} day={day} />
      <SaveIt
        type="RecordTraining"
        data={
          typed === '' || doneMs === null ? null : { person, name: typed, kind: kind.value, doneMs }
        }
        word={say.saveTraining}
        now={doneMs ?? 0}
        onTaken={() => {
          name.value = ''
          onSaved()
        }}
      />
    </section>
  )
}

type DayProps = {
  readonly name: string
  readonly word: string
  readonly day: Signal<string>
}

function DayField({ name, word, day }: DayProps) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const isWrong = day.value !== '' && noonOf(day.value, format.value) === null
  return <Typed {...{ name, word, of: day }} wrong={isWrong ? say.wrongDay(day.value) : null} />
}

function Filters({ today, onSaved }: Props) {
  const { state, words, format } = useShop()
  const say = useOwnWords(own)
  const zone = useSignal<string | null>(null)
  const what = useSignal<(typeof FILTER_WORK)[number]>('changed')
  const [day, next, efficiency] = [useSignal(today), useSignal(''), useSignal('')]
  const doneMs = noonOf(day.value, format.value)
  const nextMs = next.value === '' ? undefined : noonOf(next.value, format.value)
  const share = efficiency.value === '' ? undefined : numberOf(efficiency.value) / 100
  const known = state.value
  const zones = known ? Object.keys(known.things.zone) : []
  const isWrong = nextMs === null || Number.isNaN(share ?? 0)
  const data =
    zone.value === null || doneMs === null || isWrong
      ? null
      : {
          ...{ zone: zone.value, what: what.value, doneMs },
          ...(nextMs === undefined ? {} : { nextMs }),
          ...(share === undefined ? {} : { efficiency: share }),
        }
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
      <Typed name="efficiency" word={say.efficiency} isNumber unit="%" of={efficiency} />
      <SaveIt
        type="ServiceFilter"
        data={data}
        word={say.saveFilters}
        now={doneMs ?? 0}
        onTaken={() => {
          next.value = ''
          efficiency.value = ''
          onSaved()
        }}
      />
    </section>
  )
}

function Solvent({ onSaved }: Pick<Props, 'onSaved'>) {
  const say = useOwnWords(own)
  const [name, ml] = [useSignal(''), useSignal('')]
  const typed = name.value.trim()
  return (
    <section class="stack">
      <h3>{say.solvent}</h3>
      <Typed name="solvent" word={say.solventName} of={name} />
      <Typed name="solventMl" word={say.ml} isNumber unit="mL" of={ml} />
      <SaveIt
        type="UseSolvent"
        data={
          typed === '' || ml.value.trim() === '' ? null : { solvent: typed, ml: numberOf(ml.value) }
        }
        word={say.saveSolvent}
        now={0}
        onTaken={() => {
          name.value = ''
          ml.value = ''
          onSaved()
        }}
      />
    </section>
  )
}
