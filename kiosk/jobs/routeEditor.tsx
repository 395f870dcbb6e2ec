import { useSignal } from '@preact/signals'
import type { RouteStep } from '../../machines/commands.ts'
import type { JobColour } from '../../machines/job/machine.ts'
import { WORKS, type Work } from '../../machines/panel/context.ts'
import {
  carriesColour,
  coatsOfStep,
  movedStep,
  nudgedCoats,
  sheetsFor,
  withCoats,
  withColour,
  withFace,
  withoutStep,
  withSheet,
  withStep,
  withWork,
} from '../../machines/plan/routeEdit.ts'
import { isSprayed, type Sheet, STAGES, type Stage } from '../../machines/sheet/schema.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { Press } from '../ui/buttons.tsx'
import { Choice, worded } from '../ui/parts.tsx'

type Route = readonly RouteStep[]
type Props = {
  readonly route: Route
  readonly sheets: readonly Sheet[]
  readonly colours: readonly JobColour[]
  /** The number of steps at the start that have work on them: they stay where they are. */
  readonly fixed: number
  readonly onChange: (route: Route) => void
}

const FACES = ['whole', 'edges', 'spot'] as const
const COATS = ['least', 'planned', 'most'] as const
const STEPS_MOST = 60

/** A route, step by step. One step is open at a time: its keys stand beneath it. */
export function RouteEditor({ route, sheets, colours, fixed, onChange }: Props) {
  const { words } = useShop()
  const { jobs } = words.value
  const at = useSignal<number | null>(null)
  const isAdding = useSignal(false)
  const take = (next: Route, nextAt: number | null) => {
    at.value = nextAt
    onChange(next)
  }
  const add = (stage: Stage) => {
    const place = at.value === null ? route.length : Math.max(fixed, at.value + 1)
    isAdding.value = false
    take(withStep(route, place, stage, sheets, colours[0]?.key), place)
  }
  const stages = STAGES.filter((s) => !isSprayed(s) || sheetsFor(s, sheets).length > 0)
  return (
    <div class="route-editor">
      <ol class="rows">
        {route.map((step, i) => (
          <li key={i} class="step-item">
            <button
              type="button"
              class="row step-row"
              data-step={i}
              aria-expanded={at.value === i}
              onClick={() => {
                at.value = at.value === i ? null : i
              }}
            >
              <StepText n={i} step={step} sheets={sheets} isFixed={i < fixed} />
            </button>
            {at.value === i && (
              <StepKeys
                route={route}
                at={i}
                sheets={sheets}
                colours={colours}
                fixed={fixed}
                take={take}
              />
            )}
          </li>
        ))}
      </ol>
      {isAdding.value ? (
        <Choice
          word={jobs.addStepAt}
          options={worded(stages, (stage) => words.value.stage[stage as Stage])}
          picked={null}
          onPick={(stage) => add(stage as Stage)}
        />
      ) : (
        <Press
          act="addStep"
          isOff={route.length >= STEPS_MOST}
          onPress={() => {
            isAdding.value = true
          }}
        >
          {jobs.addStep}
        </Press>
      )}
    </div>
  )
}

type TextProps = {
  readonly n: number
  readonly step: RouteStep
  readonly sheets: readonly Sheet[]
  readonly isFixed: boolean
}

function StepText({ n, step, sheets, isFixed }: TextProps) {
  const { jobs, stage, work } = useWords()
  const coats = coatsOfStep(step, sheets)
  const said = [
    sheets.find((sheet) => sheet.sheet === step.sheet)?.name ?? step.sheet ?? '',
    step.colour ?? '',
    step.work === undefined ? '' : work[step.work],
    coats ? jobs.coatsPlan(coats.least, coats.planned, coats.most) : '',
    step.face === 'whole' ? '' : (jobs.faces[step.face] ?? ''),
    isFixed ? jobs.fixedStep : '',
  ]
  return (
    <>
      <b>{`${n + 1}. ${stage[step.stage]}`}</b>
      <span class="minor">{said.filter((text) => text !== '').join(' · ')}</span>
    </>
  )
}

type KeysProps = Omit<Props, 'onChange'> & {
  readonly at: number
  readonly take: (route: Route, at: number | null) => void
}

function StepKeys({ route, at, sheets, colours, fixed, take }: KeysProps) {
  const { jobs, work } = useWords()
  const step = route[at] as RouteStep
  const coats = coatsOfStep(step, sheets)
  const own = sheetsFor(step.stage, sheets)
  const isFixed = at < fixed
  // Where its sheet is out of use, or none was chosen, the only other one is a choice as well.
  const isOfOwn = own.some(({ sheet }) => sheet === step.sheet)
  return (
    <div class="step-keys">
      {!isFixed && (
        <div class="acts">
          <Press isOff={at <= fixed} onPress={() => take(movedStep(route, at, -1), at - 1)}>
            {jobs.earlier}
          </Press>
          <Press
            isOff={at === route.length - 1}
            onPress={() => take(movedStep(route, at, 1), at + 1)}
          >
            {jobs.later}
          </Press>
          {route.length > 1 && (
            <Press act="dropStep" isApart onPress={() => take(withoutStep(route, at), null)}>
              {jobs.dropStep}
            </Press>
          )}
        </div>
      )}
      {!isFixed && own.length > (isOfOwn ? 1 : 0) && (
        <Choice
          word={jobs.sheet}
          options={worded(
            own.map((sheet) => sheet.sheet),
            (id) => own.find((sheet) => sheet.sheet === id)?.name ?? id,
          )}
          picked={step.sheet ?? null}
          onPick={(sheet) => take(withSheet(route, at, sheet), at)}
        />
      )}
      {carriesColour(step.stage) && colours.length > 0 && (
        <Choice
          word={jobs.colour}
          options={worded(
            colours.map(({ key }) => key),
            (key) => `${key} ${colours.find((c) => c.key === key)?.code ?? ''}`,
          )}
          picked={step.colour ?? null}
          onPick={(colour) => take(withColour(route, at, colour), at)}
        />
      )}
      {coats && (
        <div class="coat-keys">
          {COATS.map((which) => (
            <Nudge
              key={which}
              word={jobs.coats[which] ?? which}
              which={which}
              value={coats[which]}
              onNudge={(by) => take(withCoats(route, at, nudgedCoats(coats, which, by)), at)}
            />
          ))}
        </div>
      )}
      {!isFixed && step.stage === 'prep' && (
        <Choice
          word={jobs.work}
          options={worded(WORKS, (one) => work[one as Work])}
          picked={step.work ?? null}
          onPick={(one) => take(withWork(route, at, one as Work), at)}
        />
      )}
      {isSprayed(step.stage) && (
        <Choice
          word={jobs.face}
          options={worded(FACES, (face) => jobs.faces[face] ?? face)}
          picked={step.face}
          onPick={(face) => take(withFace(route, at, face as RouteStep['face']), at)}
        />
      )}
    </div>
  )
}

type NudgeProps = {
  readonly word: string
  readonly which: string
  readonly value: number
  readonly onNudge: (by: -1 | 1) => void
}

/** A small number, by two keys. Quick repeats are meant. */
function Nudge({ word, which, value, onNudge }: NudgeProps) {
  return (
    <fieldset class="amount nudge" data-nudge={which}>
      <legend class="minor">{word}</legend>
      <button type="button" aria-label={`${word} −`} onClick={() => onNudge(-1)}>
        −
      </button>
      <output class="digits">{value}</output>
      <button type="button" aria-label={`${word} +`} onClick={() => onNudge(1)}>
        +
      </button>
    </fieldset>
  )
}
