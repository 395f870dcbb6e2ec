import { useSignal } from '@preact/signals'
import { usedSince } from '../../machines/waiting.ts'
import { isTaken, thingId } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer, Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { fromHere } from '../ui/here.ts'
import { Choice } from '../ui/parts.tsx'
import { hashOf } from '../ui/route.ts'
import { alsoFor } from './amount.ts'
import { Asked, askedOf } from './asked.tsx'
import { type Draft, lotsOf, NEW_DRAFT, partName, settled } from './draft.ts'
import { Again, Lots, MixCautions, type StepProps } from './parts.tsx'
import { pouredBy, type Reading } from './poured.ts'
import {
  canCalculate,
  densitiesOf,
  mixedBy,
  type PourView,
  pouredOf,
  pourView,
  whenMixed,
} from './pours.ts'
import { Scale } from './scale.tsx'
import { hiddenG, isJustTared, shownG, tared, withoutLast } from './tare.ts'

const STEPS_G = [0.01, 0.1, 0.5, 1] as const

type Props = StepProps & {
  readonly onAgain: () => void
  /** A cup that was used already and that nobody recorded: this is it. */
  readonly usedCup: string | undefined
}

/** Pour by the scale, component by component; then MIXED, and the label. */
export function Pouring({ state, draft, it, now, usedCup, onAgain }: Props) {
  const { words, format } = useShop()
  const { bench } = words.value
  const grams = gramsIn(it.mix.stepG)
  const { sending, ask } = useCommands()
  const wrong = useSignal<Extract<Reading, { kind: 'wrong' }>['code'] | null>(null)
  const set = (change: Partial<Draft>) => {
    draft.value = { ...draft.value, ...change }
  }
  const { pours } = draft.value
  const isCalculated = canCalculate(it.sheet)
  const view = isCalculated ? pourView(it.mix, pours) : null
  const poured = pouredOf(it.mix, pours)
  const asked = askedOf(it, view)
  const add = (g: number | null) => {
    wrong.value = null
    const part = view?.next?.part
    if (part === undefined) return
    set({ ...(pours.length === 0 ? settled(it) : {}), pours: [...pours, { part, g, at: now }] })
  }
  const read = (text: string): boolean => {
    const reading = pouredBy(text, shownG(draft.value, view?.readingG ?? 0))
    if (reading.kind === 'wrong') wrong.value = reading.code
    else add(reading.g)
    return reading.kind === 'poured'
  }
  const mix = async () => {
    const usedAt = usedCup === undefined ? null : usedSince(state, usedCup)
    const cup = usedCup !== undefined && usedAt !== null ? usedCup : thingId()
    const given = (value: string) => (value === '' ? undefined : value)
    const lots = lotsOf(it.sheet, draft.value.lots)
    const others = alsoFor(it)
    const data = {
      cup,
      sheet: it.sheet.sheet,
      totalMl: poured.totalMl,
      job: given(it.job),
      ...(others.length > 0 ? { alsoFor: others } : {}),
      colour: given(it.colour),
      activator: given(it.activator.picked),
      reducer: given(it.reducer.picked),
      ...(it.additives.length > 0 ? { additives: it.additives.map((name) => ({ name })) } : {}),
      ...(poured.pouredG ? { pouredG: poured.pouredG, scaleG: draft.value.stepG } : {}),
      ...(lots.length > 0 ? { lots } : {}),
    }
    const isHere = fromHere()
    const sent = await ask('MixCup', data, mixedBy(usedAt, whenMixed(poured.activatedAt, now), now))
    if (!isTaken(sent)) return
    draft.value = { ...NEW_DRAFT, stepG: draft.value.stepG, cupMl: draft.value.cupMl }
    if (isHere()) location.hash = hashOf('cups', cup)
  }
  const mixed = (
    <div class="acts">
      <Press
        act="MixCup"
        isMain={asked === undefined && (view === null || (view.isAllIn && !view.isOff))}
        isOff={asked !== undefined || sending.value.busy || (view !== null && !view.isAllIn)}
        onPress={mix}
      >
        {view?.isOff ? (
          <span>
            {bench.mixed}
            <small>{words.value.wall.offRatio}</small>
          </span>
        ) : (
          bench.mixed
        )}
      </Press>
      {pours.length > 0 && (
        <Press
          act="undoPour"
          onPress={() => {
            wrong.value = null
            set(withoutLast(draft.value))
          }}
        >
          {isJustTared(draft.value) ? bench.undoTare : bench.undo}
        </Press>
      )}
      {view?.next?.readingG != null && shownG(draft.value, view.readingG) > 0 && (
        <Press act="tare" onPress={() => set(tared(draft.value, view.readingG))}>
          <span>
            {bench.tare}
            <small>{grams(0)}</small>
          </span>
        </Press>
      )}
    </div>
  )
  return (
    <div class="pouring">
      <section>
        {view === null ? (
          <p class="sentence">{bench.noDensity}</p>
        ) : (
          <Next view={view} it={it} poured={draft.value} />
        )}
        {view?.isOff && <Sentence>{bench.offRatio}</Sentence>}
        <Answer sending={sending.value} now={now} />
        {asked !== undefined ? (
          <>
            <Asked draft={draft} it={it} of={asked} />
            {mixed}
          </>
        ) : view?.next ? (
          <Scale
            count={pours.length + draft.value.tares.length}
            grams={grams}
            askedG={view.next.readingG === null ? null : shownG(draft.value, view.next.readingG)}
            wrong={wrong.value && sayWrong(wrong.value, view)}
            onAsShown={() =>
              add(view.next?.readingG == null ? null : view.next.readingG - view.readingG)
            }
            onReading={read}
          >
            {mixed}
          </Scale>
        ) : (
          mixed
        )}
      </section>
      <section>
        {view !== null && <Lines view={view} it={it} />}
        {view !== null && <Said view={view} it={it} />}
        {poured.activatedAt !== null && (
          <p class="sentence">{bench.potRuns(format.value.timeAndDay(poured.activatedAt, now))}</p>
        )}
        <MixCautions
          sheet={it.sheet}
          isActivated={it.sheet.potLife !== null || it.activator.picked !== ''}
        />
        <Lots sheet={it.sheet} draft={draft} />
        {view !== null && densitiesOf(it.sheet) !== null && (
          <Choice
            name="stepG"
            word={bench.step}
            picked={String(draft.value.stepG)}
            options={STEPS_G.map((g) => ({
              value: String(g),
              word: gramsIn(g)(g),
            }))}
            onPick={(g) => set({ stepG: Number(g) })}
          />
        )}
        <div class="acts apart">
          <Again onAgain={onAgain} />
        </div>
      </section>
    </div>
  )

  function sayWrong(code: NonNullable<typeof wrong.value>, shown: PourView): string {
    if (code === 'noNumber') return bench.notANumber
    if (code === 'tooMuch') return bench.tooMuch
    return bench.tooFew(grams(shownG(draft.value, shown.readingG)))
  }
}

const decimals = (stepG: number) => (stepG >= 1 ? 0 : stepG >= 0.1 ? 1 : 2)
/** As the scale shows it: with its own decimals. */
const gramsIn =
  (stepG: number) =>
  (g: number): string =>
    `${g.toFixed(decimals(stepG))} g`

type ViewProps = { readonly view: PourView; readonly it: StepProps['it'] }

/** What the scale must show next, large. */
function Next({ view, it, poured }: ViewProps & { readonly poured: Draft }) {
  const { words, format } = useShop()
  const { bench } = words.value
  const grams = gramsIn(it.mix.stepG)
  const { next } = view
  if (next === null) return <p class="pour-next">{bench.exact}</p>
  const name = partName(it, next.part)
  const mark = view.lines.find((line) => line.part === next.part)?.markMl ?? 0
  return (
    <div class="pour-next" data-next={next.part}>
      <h2>{next.isTopUp ? bench.topUp(name) : bench.pour(name)}</h2>
      <p class="minor">
        {next.readingG === null ? bench.fillTo : bench.scaleShows}
        {hiddenG(poured) > 0 && ` ${bench.tared(grams(hiddenG(poured)))}`}
      </p>
      <p class="digits reading" aria-live="polite">
        {next.readingG === null ? format.value.volume(mark) : grams(shownG(poured, next.readingG))}
      </p>
    </div>
  )
}

/** What was poured too much, the new total, and how far the ratio is off. */
function Said({ view, it }: ViewProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const grams = gramsIn(it.mix.stepG)
  const { over, fits, errorPct } = view
  const cup = it.mix.cupMl === null ? '' : format.value.volume(it.mix.cupMl)
  return (
    <>
      {over !== null && (
        <p class="sentence" role="status" data-over={over.part}>
          {bench.over(partName(it, over.part), grams(over.byG))}{' '}
          {bench.newTotal(format.value.volume(view.totalMl))} {fits === true && bench.fits(cup)}
        </p>
      )}
      {fits === false && <Sentence>{bench.fitsNot(cup)}</Sentence>}
      {errorPct !== null && (
        <p class="sentence" role="status" data-error={errorPct.toFixed(1)}>
          {bench.error(errorPct.toFixed(1))} {!view.isOff && view.next?.isTopUp && bench.mayTopUp}
        </p>
      )}
    </>
  )
}

function Lines({ view, it }: ViewProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const grams = gramsIn(it.mix.stepG)
  return (
    <table class="targets pours">
      <thead>
        <tr class="minor">
          <th scope="col">{bench.component}</th>
          <th scope="col">{bench.target}</th>
          <th scope="col">{bench.poured}</th>
        </tr>
      </thead>
      <tbody>
        {view.lines.map((line) => (
          <tr key={line.part} aria-current={line.part === view.next?.part ? 'step' : undefined}>
            <th scope="row">{partName(it, line.part)}</th>
            <td class="digits">
              {line.targetG !== null && grams(line.targetG)}
              <small>{format.value.volume(line.targetMl)}</small>
            </td>
            <td class="digits">
              {line.isPoured ? (line.pouredG === null ? '✓' : grams(line.pouredG)) : '–'}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
