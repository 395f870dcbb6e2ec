import { useLayoutEffect } from 'preact/hooks'
import { currentSheets } from '../../machines/plan/route.ts'
import type { Sheet } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { useDraft } from '../forms/useDraft.ts'
import { mixNames } from '../lanes/cups.ts'
import { Press } from '../ui/buttons.tsx'
import { Parts } from '../ui/parts.tsx'
import type { ViewProps } from '../ui/screen.tsx'
import { useMedia } from '../ui/useMedia.ts'
import { type Draft, draftSchema, filled, NEW_DRAFT } from './draft.ts'
import { HowMuch } from './howMuch.tsx'
import { isJobOpen, lastMixed, nextMix, repeated } from './nextMix.ts'
import { Again } from './parts.tsx'
import { Pouring } from './pouring.tsx'
import { What } from './what.tsx'

/** Mix a cup: what, how much, pour; then its label. */
export function Bench({ kiosk, rest }: ViewProps) {
  const { state, words } = useShop()
  const [first, ...others] = state.value ? currentSheets(state.value) : []
  return (
    <div class="bench">
      {(state.value === null || first === undefined) && <Parts shown="mix" />}
      {state.value === null && <p class="minor">…</p>}
      {state.value !== null && first === undefined && (
        <p class="sentence">{words.value.bench.noSheets}</p>
      )}
      {state.value !== null && first !== undefined && (
        <Mix
          state={state.value}
          sheets={[first, ...others]}
          now={kiosk.reading.value.nowMs}
          wanted={rest}
        />
      )}
    </div>
  )
}

type MixProps = {
  readonly state: State
  readonly sheets: readonly [Sheet, ...Sheet[]]
  readonly now: number
  /** What the address says. */
  readonly wanted: readonly string[]
}

/** The parts of the bench, its steps and the key that goes on fit in one line. */
const WIDE = '(min-width: 1100px)'

const STEPS = ['what', 'amount', 'pour'] as const

function Mix({ state, sheets, now, wanted }: MixProps) {
  const { words, format } = useShop()
  const { bench } = words.value
  const draft = useDraft<Draft>('bench', draftSchema, () => NEW_DRAFT, localStorage)
  // The address names a product and a job, or a cup that was used and never recorded.
  const isForCup = wanted[0] === 'cup'
  const [wantedSheet, wantedJob] = isForCup ? [] : wanted
  const usedCup = isForCup ? wanted[1] : undefined
  // All three set the draft before the paint: after it they would overwrite a step that was pressed meanwhile.
  useLayoutEffect(() => {
    // A link to this page does not change what is already in the cup.
    if (wantedSheet === undefined || draft.value.pours.length > 0) return
    draft.value = { ...NEW_DRAFT, isOpen: false, sheet: wantedSheet, job: wantedJob ?? '' }
  }, [wantedSheet, wantedJob])
  // What was left here for a job that is closed by now is nobody's plan any more.
  const { job, pours: begun } = draft.value
  const isOver = job !== '' && begun.length === 0 && !isJobOpen(state, job)
  useLayoutEffect(() => {
    if (isOver) draft.value = NEW_DRAFT
  }, [isOver])
  // Until somebody chooses it stands on what the open job needs next.
  const next = draft.value.isOpen ? nextMix(state, sheets, now) : null
  useLayoutEffect(() => {
    if (next !== null && draft.value.isOpen) draft.value = { ...draft.value, ...next }
  }, [next?.sheet, next?.job, next?.colour, draft.value.isOpen])
  const last = lastMixed(state)
  const once = last && repeated(state, last, sheets)
  const it = filled(state, draft.value, sheets, now)
  const { step, pours } = draft.value
  const props = { state, draft, it, now }
  const again = () => {
    draft.value = { ...NEW_DRAFT, stepG: draft.value.stepG, cupMl: draft.value.cupMl }
  }
  const repeat = last && once && (
    <div class="acts">
      <Press
        act="repeat"
        onPress={() => {
          const { stepG, cupMl } = draft.value
          draft.value = { ...once, stepG, cupMl, step: 'amount' }
        }}
      >
        <span>
          {bench.repeat}
          <small>
            {[last.name, format.value.volume(last.totalMl), ...mixNames(last)].join(' · ')}
          </small>
        </span>
      </Press>
    </div>
  )
  // In the head where that has room for it: below, a list of products or a bell would hide it.
  const isWide = useMedia(WIDE)
  const onward = step !== 'pour' && (
    <Press
      act="next"
      isMain
      onPress={() => {
        draft.value = {
          ...draft.value,
          isOpen: false,
          step: step === 'what' ? 'amount' : 'pour',
        }
        document.querySelector('main')?.scrollTo({ top: 0 })
      }}
    >
      {bench.next}
    </Press>
  )
  return (
    <>
      <div class="bench-head">
        <Parts shown="mix" />
        <div class="steps">
          {STEPS.map((name) => (
            <button
              type="button"
              key={name}
              data-step={name}
              aria-pressed={step === name}
              onClick={() => {
                draft.value = { ...draft.value, step: name }
              }}
            >
              {bench.steps[name]}
            </button>
          ))}
          {isWide && onward}
        </div>
      </div>
      {step !== 'pour' && pours.length > 0 && <p class="sentence">{bench.begun}</p>}
      {step === 'pour' ? (
        <Pouring {...props} usedCup={usedCup} onAgain={again} />
      ) : (
        <fieldset class="plain" disabled={pours.length > 0}>
          {step === 'what' ? (
            <What {...props} sheets={sheets} repeat={repeat} />
          ) : (
            <HowMuch {...props} />
          )}
        </fieldset>
      )}
      {step !== 'pour' && (
        <div class="acts">
          {!isWide && onward}
          <Again onAgain={again} />
        </div>
      )}
    </>
  )
}
