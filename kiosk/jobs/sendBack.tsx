import { useSignal } from '@preact/signals'
import { coatsOn, dueStep } from '../../machines/panel/context.ts'
import { isTaken } from '../commands/send.ts'
import { useShop } from '../commands/shop.ts'
import type { Commands } from '../commands/useCommands.ts'
import { Choice, worded } from '../ui/choice.tsx'
import { Fold } from '../ui/fold.tsx'
import type { Words } from '../words/en.ts'
import { backSteps, type PanelView } from './panelView.ts'

/** Coded, so that nobody types with gloves on: faults of the work first, then of its record. */
const WHY = [
  'WRONG_MIX',
  'EQUIPMENT',
  'CLIMATE',
  'WAITED_FOR_BOOTH',
  'BREAK',
  'CUSTOMER_CHANGE',
  'DELIBERATE_TECHNIQUE',
  'WRONG_CUP',
  'WRONG_PART',
  'UNKNOWN',
] as const

const whyWord = (words: Words, code: string): string =>
  (words.reasons as Record<string, string>)[code] ?? words.jobs.history.voidReasons[code] ?? code

type Props = { readonly view: PanelView; readonly commands: Commands }

/** Back to an earlier step: which, how many of its coats still count, and why. */
export function SendBack({ view, commands }: Props) {
  const { words } = useShop()
  const { jobs, stage } = words.value
  const { id, panel } = view
  const toStep = useSignal<number | null>(null)
  const done = useSignal(0)
  const why = useSignal<string | null>(null)
  const to = toStep.value
  const most = to === null ? 0 : coatsOn(panel, to)
  const word = (index: string) => {
    const step = panel.route[Number(index)]
    return step ? `${Number(index) + 1}. ${stage[step.stage]}` : index
  }
  const send = async () => {
    if (to === null || why.value === null) return
    const sent = await commands.ask('SendBackPanel', {
      panel: id,
      toStep: to,
      done: Math.min(done.value, most),
      reason: why.value,
    })
    if (!isTaken(sent)) return
    toStep.value = null
    why.value = null
    done.value = 0
  }
  return (
    <Fold word={jobs.sendBack} act="back">
      <Choice
        word={jobs.sendBackTo}
        options={worded(backSteps(panel).map(String), word)}
        picked={to === null ? null : String(to)}
        onPick={(index) => {
          toStep.value = Number(index)
          done.value = 0
        }}
      />
      {most > 0 && (
        <Choice
          word={jobs.stillCount}
          options={worded(
            Array.from({ length: most + 1 }, (_, n) => String(n)),
            (n) => n,
          )}
          picked={String(done.value)}
          onPick={(n) => {
            done.value = Number(n)
          }}
        />
      )}
      <Choice
        word={jobs.sendBackWhy}
        options={worded(WHY, (code) => whyWord(words.value, code))}
        picked={why.value}
        onPick={(code) => {
          why.value = code
        }}
      />
      <div class="acts">
        <button
          type="button"
          class="main"
          data-act="SendBackPanel"
          disabled={to === null || why.value === null || commands.sending.value.busy}
          onClick={() => void send()}
        >
          {jobs.sendBackDo}
        </button>
      </div>
    </Fold>
  )
}

/** The step that is due is not done: with the reason, which is kept. One touch, and it can be undone. */
export function SkipStep({ view, commands }: Props) {
  const { words } = useShop()
  const { jobs, stage } = words.value
  const { id, panel } = view
  const step = panel.route[dueStep(panel)]
  if (!step) return null
  return (
    <Fold word={`${jobs.skip}: ${stage[step.stage]}`} act="skip">
      <Choice
        word={jobs.skipWhy}
        options={worded(WHY, (code) => whyWord(words.value, code))}
        picked={null}
        onPick={(reason) =>
          void commands.ask('SkipStep', { panel: id, step: dueStep(panel), reason })
        }
      />
    </Fold>
  )
}
