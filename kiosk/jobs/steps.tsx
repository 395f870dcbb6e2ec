import { LATEST } from '../../machines/panel/gate.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import { isSprayed } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import type { StepView } from './panelView.ts'

/** What a step's state looks like without any colour. */
const SIGN: Record<StepView['status'], string> = { done: '✓', skipped: '–', now: '▶', open: '○' }

/** A route in one line: every step with its sign. */
export function StepMarks({ steps }: { steps: readonly StepView[] }) {
  const { words } = useShop()
  return (
    <span class="step-marks">
      {steps.map(({ index, step, status, coatsOn }) => (
        <span key={index} class="step-mark" data-status={status}>
          <span aria-hidden="true">{SIGN[status]}</span> {words.value.stage[step.stage]}
          {isSprayed(step.stage) &&
            status !== 'skipped' &&
            ` ${coatsOn}/${step.coats?.planned ?? 1}`}
        </span>
      ))}
    </span>
  )
}

/** A route step by step, with what is known of each. */
export function StepList({ steps, state }: { steps: readonly StepView[]; state: State }) {
  const { words } = useShop()
  const { jobs, stage } = words.value
  return (
    <ol class="rows step-list">
      {steps.map(({ index, step, status, coatsOn }) => (
        <li key={index} data-status={status}>
          <span class="sign" aria-hidden="true">
            {SIGN[status]}
          </span>
          <span>
            <b>{`${index + 1}. ${stage[step.stage]}`}</b>{' '}
            <span class="minor">
              {[
                jobs.stepIs[status] ?? status,
                step.coats ? jobs.coatsOf(coatsOn, step.coats.planned) : '',
                sheetAt(state, step.sheet, LATEST)?.sheet.name ?? step.sheet ?? '',
                step.colour ?? '',
                step.face === 'whole' ? '' : (jobs.faces[step.face] ?? ''),
              ]
                .filter((text) => text !== '')
                .join(' · ')}
            </span>
          </span>
        </li>
      ))}
    </ol>
  )
}
