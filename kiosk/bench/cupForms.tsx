import { useSignal } from '@preact/signals'
import { COMMANDS } from '../../machines/commands.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { State } from '../../machines/state.ts'
import { isTaken, thingId } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { NumberField } from '../forms/fields.tsx'
import { numberIn } from '../forms/spec.ts'
import { useDraft } from '../forms/useDraft.ts'
import { Answer } from '../ui/answer.tsx'
import { Hold, Press } from '../ui/buttons.tsx'
import { Choice } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import {
  addedMl,
  additionsFor,
  leftMl,
  type PourPlan,
  partnersOf,
  planSchema,
  pourData,
  previewCup,
  sheetOfCup,
} from './cups.ts'
import { type CupFormProps, FormHead, MixCautions } from './parts.tsx'

const VOLUME = numberIn(COMMANDS.MixCup, 'totalMl')
/** The preview's cup id: the new cup has none until it is poured. */
const PREVIEW = '22222222'

/** Decanting, joining, topping up, activating: what is poured becomes a new cup with a new label. */
export function PourForm({ state, id, cup, now }: CupFormProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const { sending, ask, again, clear } = useCommands()
  const start: PourPlan = { from: { [id]: null }, add: [] }
  const kept = useDraft<PourPlan>(`bench.pour.${id}`, planSchema, () => start, localStorage)
  const partners = partnersOf(state, id, cup, now)
  const known = [{ id, cup }, ...partners]
  const from = Object.fromEntries(
    Object.entries(kept.value.from).filter(([other]) => known.some((k) => k.id === other)),
  )
  const plan: PourPlan = { ...kept.value, from }
  const { add } = plan
  const sheet = sheetOfCup(state, cup)
  const taken = known
    .filter((k) => k.id in from)
    .map((k) => ({ cup: k.cup, ml: from[k.id] ?? leftMl(k.cup) }))
  const additions = additionsFor(sheet, taken)
  const put = (change: Partial<PourPlan>) => {
    // An override is of what was refused: after a change it is asked anew.
    clear()
    kept.value = { ...plan, ...change }
  }
  const preview = previewCup(state, 'PourCup', pourData(PREVIEW, plan, additions), now)
  const newId = useSignal('')
  const pour = async () => {
    newId.value = thingId()
    await done(isTaken(await ask('PourCup', pourData(newId.value, plan, additions))))
  }
  const done = async (isTaken: boolean) => {
    if (!isTaken) return
    kept.value = start
    await ask('PrintLabel', { cup: newId.value })
    location.hash = hashOf('cups', newId.value)
  }
  return (
    <div class="form">
      <FormHead title={bench.pourTitle(`${id.slice(0, 4)}, ${cup.name}`)} />
      {partners.length === 0 ? (
        <p class="minor">{bench.pourNone}</p>
      ) : (
        <Choice
          name="with"
          word={bench.pourWith}
          picked={Object.keys(from)}
          options={partners.map((view) => ({
            value: view.id,
            word: view.id.slice(0, 4),
            small: format.value.volume(leftMl(view.cup)),
          }))}
          onPick={(other) => {
            const { [other]: had, ...others } = from
            put({ from: had === undefined ? { ...from, [other]: null } : others })
          }}
        />
      )}
      {known
        .filter((k) => k.id in from)
        .map((k) => {
          const ml = from[k.id] ?? null
          return (
            <div class="numbers" key={k.id}>
              <Choice
                name={`from-${k.id}`}
                word={bench.howMuch(k.id.slice(0, 4))}
                picked={ml === null ? 'all' : 'some'}
                options={[
                  { value: 'all', word: bench.all, small: format.value.volume(leftMl(k.cup)) },
                  { value: 'some', word: bench.some },
                ]}
                onPick={(how) =>
                  put({
                    from: { ...from, [k.id]: how === 'all' ? null : Math.round(leftMl(k.cup) / 2) },
                  })
                }
              />
              {ml !== null && (
                <NumberField
                  name={`ml-${k.id}`}
                  word={bench.howMuch(k.id.slice(0, 4))}
                  value={ml}
                  spec={VOLUME}
                  least={1}
                  onChange={(value) => put({ from: { ...from, [k.id]: value ?? leftMl(k.cup) } })}
                />
              )}
            </div>
          )
        })}
      {additions.length > 0 && (
        <Choice
          name="add"
          word={bench.addTo}
          picked={add.map((a) => a.name)}
          options={additions.map((a) => ({
            value: a.name,
            word: a.name,
            small: bench[a.role === 'activator' ? 'activator' : 'reducer'],
          }))}
          onPick={(name) => {
            const had = add.some((a) => a.name === name)
            const wanted = additions.find((a) => a.name === name)
            // One activator and one reducer: a different one replaces the first.
            const others = add.filter((a) => a.name !== name && a.role !== wanted?.role)
            put({
              add:
                had || !wanted
                  ? add.filter((a) => a.name !== name)
                  : [...others, { role: wanted.role, name, ml: null }],
            })
          }}
        />
      )}
      {add.map((a) => (
        <NumberField
          key={a.name}
          name={`add-${a.name}`}
          word={bench.addMl(a.name)}
          value={addedMl(a, additions)}
          spec={VOLUME}
          least={1}
          onChange={(ml) =>
            put({
              add: add.map((other) => (other.name === a.name ? { ...a, ml } : other)),
            })
          }
        />
      ))}
      {preview.kind === 'cup' && <Child state={state} made={preview.cup} now={now} />}
      <Answer
        sending={sending.value}
        now={now}
        onOverride={(reason) => void again(reason).then(done)}
      />
      <div class="acts">
        <Press
          act="PourCup"
          isMain
          isOff={sending.value.busy || Object.keys(from).length === 0}
          onPress={pour}
        >
          {bench.pourNow}
        </Press>
      </div>
      <MixCautions sheet={sheet} isActivated={cup.clocks.length > 0 || add.length > 0} />
    </div>
  )
}

/** What the new cup will be: nothing extends it beyond its earliest parent. */
function Child({ state, made, now }: { state: State; made: CupContext; now: number }) {
  const { words, format } = useShop()
  const { bench } = words.value
  const endsAt = cupEndsAt(state, made)
  return (
    <p class="sentence" role="status" data-child={endsAt ?? ''}>
      {bench.child(format.value.volume(made.totalMl))}{' '}
      {endsAt !== null
        ? bench.childEnds(format.value.timeAndDay(endsAt, now))
        : made.keepUntilMs !== null && bench.childKeeps(format.value.date(made.keepUntilMs))}
    </p>
  )
}

const LEFT = numberIn(COMMANDS.EmptyCup, 'leftMl')

/** An end for a cup: used up, or discarded with what is left in it. */
export function EmptyForm({ state, id, cup, now }: CupFormProps) {
  const { bench } = useWords()
  const { sending, ask } = useCommands()
  const left = useSignal<number | null>(leftMl(cup))
  const empty = async (how: 'used' | 'discarded') => {
    const leftNow = how === 'used' ? 0 : left.value
    const sent = await ask('EmptyCup', {
      cup: id,
      how,
      ...(leftNow === null ? {} : { leftMl: leftNow }),
    })
    if (isTaken(sent)) location.hash = hashOf('cups')
  }
  return (
    <div class="form">
      <FormHead title={`${bench.empty}: ${id.slice(0, 4)}, ${cup.name}`} />
      <p class="sentence">{bench.neverSeal}</p>
      <div class="acts">
        <Press act="used" isMain isOff={sending.value.busy} onPress={() => empty('used')}>
          {bench.used}
        </Press>
      </div>
      <NumberField
        name="leftMl"
        word={bench.left}
        value={left.value}
        spec={LEFT}
        onChange={(ml) => {
          left.value = ml
        }}
      />
      <Answer sending={sending.value} now={now} />
      <div class="acts apart" data-act="discard">
        <Hold onHeld={() => void empty('discarded')}>
          <span>
            {bench.discard}
            <small>{bench.hold}</small>
          </span>
        </Hold>
      </div>
      <MixCautions sheet={sheetOfCup(state, cup)} isActivated={cup.clocks.length > 0} />
    </div>
  )
}
