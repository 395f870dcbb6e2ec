import { useSignal } from '@preact/signals'
import { LATEST } from '../../machines/panel/gate.ts'
import { sheetAt } from '../../machines/sheet/fold.ts'
import { isSprayed } from '../../machines/sheet/schema.ts'
import type { State } from '../../machines/state.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { Field } from '../forms/fields.tsx'
import { knownZones, zoneWord } from '../lanes/zones.ts'
import { Choice, worded } from '../ui/parts.tsx'
import type { StepView } from './panelView.ts'

type Props = {
  readonly state: State
  readonly picked: string | null
  /** Tells this choice's field from others on the page. */
  readonly name: string
  readonly onPick: (zone: string) => void
}

const OTHER = '+'

/** The zone of a panel: one that the shop knows, or one typed in. A zone may be used before it is saved. */
export function ZoneChoice({ state, picked, name, onPick }: Props) {
  const { jobs, zones } = useWords()
  const typed = useSignal('')
  const isTyping = useSignal(false)
  const known = knownZones(state)
  const all = picked === null || known.includes(picked) ? known : [...known, picked]
  return (
    <>
      <Choice
        word={jobs.zone}
        options={worded([...all, OTHER], (zone) =>
          zone === OTHER ? OTHER : zoneWord(state, zones, zone),
        )}
        picked={isTyping.value ? OTHER : picked}
        onPick={(zone) => {
          isTyping.value = zone === OTHER
          if (zone !== OTHER) onPick(zone)
        }}
      />
      {isTyping.value && (
        <form
          class="older"
          onSubmit={(e) => {
            e.preventDefault()
            if (typed.value.trim() === '') return
            isTyping.value = false
            onPick(typed.value.trim())
          }}
        >
          <Field
            name={`zone-${name}`}
            word={jobs.otherZone}
            value={typed.value}
            onInput={(text) => {
              typed.value = text
            }}
          />
          <button type="submit">OK</button>
        </form>
      )}
    </>
  )
}

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
  const { jobs, stage } = useWords()
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
