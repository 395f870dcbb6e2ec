import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { COMMANDS } from '../../machines/commands.ts'
import { cupEndsAt } from '../../machines/cup/ends.ts'
import { keepEndsAt } from '../../machines/cup/keep.ts'
import { leftIn } from '../../machines/cup/left.ts'
import type { CupContext } from '../../machines/cup/machine.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { isTaken, thingId } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { read } from '../forms/draft.ts'
import { FieldsOf, Form, FormOf, useFormDraft } from '../forms/form.tsx'
import { type Draft, fieldsOf } from '../forms/spec.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { Hold, Press } from '../ui/buttons.tsx'
import { fromHere } from '../ui/here.ts'
import { hashOf } from '../ui/route.ts'
import { localeOf, weightText } from '../units/measure.ts'
import {
  additionsFor,
  asLeft,
  leftMl,
  oneOfEachRole,
  type PourPlan,
  partnersOf,
  pourData,
  pourStart,
  previewCup,
  proposedIn,
  sheetOfCup,
  tintFor,
  withoutGone,
} from './cups.ts'
import { type CupFormProps, FormHead, MixCautions } from './parts.tsx'

const POUR = fieldsOf(COMMANDS.PourCup, {
  only: ['from', 'add'],
  steps: { 'from.ml': 'unit', 'add.ml': 'unit' },
})
/** The preview's cup id: the new cup has none until it is poured. */
const PREVIEW = '22222222'

/** Decanting, joining, topping up, activating: what is poured becomes a new cup with a new label. */
export function PourForm({ state, id, cup, now }: CupFormProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const { volume } = format.value
  const locale = localeOf(words.value.locale)
  const roleWords: Readonly<Record<string, string | undefined>> = bench.fields
  const newId = useSignal('')
  const sheet = sheetOfCup(state, cup)
  const start = pourStart(sheet, id, cup, asLeft(state, id, cup))
  const draft = useFormDraft(`pour.${id}`, () => start, localStorage)
  const partners = partnersOf(state, id, cup, now)
  const cups = new Map(
    [{ id, cup }, ...partners].map((view) => [view.id, asLeft(state, view.id, view.cup)]),
  )
  const shown = draft.value
  const kept = withoutGone(shown, cups)
  // A cup that was emptied meanwhile is not poured. What was typed since this was drawn stays.
  useEffect(() => {
    if (kept !== shown && draft.value === shown) draft.value = kept
  })
  const planIn = (of: Draft) => read({ kind: 'group', fields: POUR }, of) as PourPlan
  const plan = planIn(kept)
  const additionsTo = (from: PourPlan['from']) => [
    ...additionsFor(sheet, from, cups),
    ...tintFor(state, cup),
  ]
  const additions = additionsTo(plan.from)
  // All of a cup of which some was sprayed is what is estimated to be left in it.
  const data = (child: string) =>
    pourData(
      child,
      { ...plan, from: plan.from.map((part) => withEstimate(state, part)) },
      additions,
    )
  const preview = previewCup(state, 'PourCup', data(PREVIEW), now)
  const { from, add = [] } = plan
  const short = (other: string) => other.slice(0, 4)
  return (
    <div class="form">
      <FormHead title={bench.pourTitle(`${short(id)}, ${cup.name}`)} />
      {partners.length === 0 && <p class="minor">{bench.pourNone}</p>}
      <FormOf
        name={`pour.${id}`}
        draft={draft}
        original={start}
        fields={POUR}
        schema={COMMANDS.PourCup}
        complete={() => {
          newId.value = thingId()
          return data(newId.value)
        }}
        type="PourCup"
        data={(value) => value}
        now={now}
        word={bench.pourNow}
        fieldWords={{
          from: bench.pourWith,
          add: bench.addTo,
          ...Object.fromEntries(
            from.map((part, i) => {
              const of = cups.get(part.cup)
              return [`from.${i}.ml`, bench.howMuch(short(part.cup), of ? volume(leftMl(of)) : '')]
            }),
          ),
          ...Object.fromEntries(add.map(({ name }, i) => [`add.${i}.ml`, bench.addMl(name)])),
        }}
        proposed={proposedIn(plan, additions, cups)}
        offers={{
          from: {
            fills: ['cup'],
            options: partners.map((view) => ({
              value: view.id,
              word: short(view.id),
              small: volume(leftMl(asLeft(state, view.id, view.cup))),
            })),
          },
          add: {
            fills: ['name', 'role'],
            options: additions.map(({ name, role, g }) => ({
              value: name,
              word: name,
              small: [
                roleWords[role],
                g !== undefined && bench.toRatio(`${weightText(g, locale)} g`),
              ]
                .filter(Boolean)
                .join(' · '),
            })),
          },
        }}
        settle={(to) => oneOfEachRole(to, additionsTo(planIn(to).from))}
        onSaved={() => {
          location.hash = hashOf('cups', newId.value)
        }}
      >
        {preview.kind === 'cup' && <Child state={state} made={preview.cup} now={now} />}
      </FormOf>
      <MixCautions sheet={sheet} isActivated={cup.clocks.length > 0 || add.length > 0} />
    </div>
  )
}

/** What the new cup will be: nothing extends it beyond its earliest parent. */
function Child({ state, made, now }: { state: State; made: CupContext; now: number }) {
  const { words, format } = useShop()
  const { bench } = words.value
  const endsAt = cupEndsAt(state, made)
  const keeps = keepEndsAt(state, made)
  return (
    <>
      <p class="sentence" role="status" data-child={endsAt ?? ''}>
        {bench.child(format.value.volume(made.totalMl))}{' '}
        {endsAt !== null
          ? bench.childEnds(format.value.timeAndDay(endsAt, now))
          : keeps !== null && bench.childKeeps(format.value.date(keeps, now))}
      </p>
      {(made.off?.length ?? 0) > 0 && <Sentence>{bench.offRatio}</Sentence>}
    </>
  )
}

function withEstimate(state: State, part: PourPlan['from'][number]): PourPlan['from'][number] {
  const cup = contextOf(state, 'cup', part.cup)
  const left = part.ml === undefined && cup ? leftIn(state, part.cup, cup) : null
  return left?.isEstimate && left.ml > 0 ? { ...part, ml: left.ml } : part
}

const MEASURED = fieldsOf(COMMANDS.MeasureCup, { only: ['leftMl'], steps: { leftMl: 'unit' } })
const LEFT = fieldsOf(COMMANDS.EmptyCup, { only: ['leftMl'], steps: { leftMl: 'unit' } })

/** What is really left in a cup: it corrects what was estimated from the coats. */
export function LeftForm({ state, id, cup, now }: CupFormProps) {
  const { words } = useShop()
  const { bench } = words.value
  const { ml, isEstimate } = leftIn(state, id, cup)
  return (
    <div class="form">
      <FormHead title={`${bench.whatIsLeft}: ${id.slice(0, 4)}, ${cup.name}`} />
      {isEstimate && <p class="sentence">{bench.leftWhy}</p>}
      <Form
        name={`left.${id}`}
        fields={MEASURED}
        schema={COMMANDS.MeasureCup}
        complete={(value) => ({ leftMl: ml, ...value, cup: id })}
        type="MeasureCup"
        data={(value) => value}
        now={now}
        word={bench.leftSave}
        fieldWords={{ leftMl: bench.left }}
        proposed={{ leftMl: ml }}
        onSaved={() => {
          location.hash = hashOf('cups')
        }}
      />
    </div>
  )
}

/** An end for a cup: used up, or discarded with what is left in it. */
export function EmptyForm({ state, id, cup, now }: CupFormProps) {
  const { bench } = useShop().words.value
  const { sending, askTyped } = useCommands()
  const draft = useSignal<Draft>({ leftMl: '' })
  const left = { leftMl: leftMl(asLeft(state, id, cup)) }
  const empty = async (how: 'used' | 'discarded') => {
    const typed =
      how === 'used'
        ? { leftMl: 0 }
        : (read({ kind: 'group', fields: LEFT }, draft.value) as object)
    const isHere = fromHere()
    const sent = await askTyped('EmptyCup', { cup: id, how, ...left, ...typed })
    if (isTaken(sent) && isHere()) location.hash = hashOf('cups')
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
      <FieldsOf
        fields={LEFT}
        draft={draft.value}
        fieldWords={{ leftMl: bench.left }}
        proposed={left}
        onChange={(to) => {
          draft.value = to
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
