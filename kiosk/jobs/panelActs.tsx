import { useSignal } from '@preact/signals'
import { coatsOn, dueStep, zoneOf } from '../../machines/panel/context.ts'
import { cureEndsAt, lastPart } from '../../machines/panel/cureClock.ts'
import type { State } from '../../machines/state.ts'
import { isTaken } from '../commands/send.ts'
import { useShop, useWords } from '../commands/shop.ts'
import { type Commands, isRefused } from '../commands/useCommands.ts'
import { atTemperatureText, heatActs } from '../lanes/heatActs.ts'
import { PartMeasured } from '../lanes/partMeasured.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold, worded } from '../ui/parts.tsx'
import { Reasons } from '../ui/reasons.tsx'
import type { Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'
import { backSteps, cureModes, isCuring, type PanelView } from './panelView.ts'

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
  (words.reasons as Record<string, string>)[code] ?? historyIn(words).voidReasons[code] ?? code

type SendBackProps = { readonly view: PanelView; readonly commands: Commands }

/** Back to an earlier step: which, how many of its coats still count, and why. */
export function SendBack({ view, commands }: SendBackProps) {
  const { words } = useShop()
  const { jobs, stage } = words.value
  const { id, panel } = view
  const toStep = useSignal<number | null>(null)
  const done = useSignal(0)
  const why = useSignal<string | null>(null)
  const stripped = useSignal(false)
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
      ...(stripped.value ? { stripped: true } : {}),
    })
    if (!isTaken(sent)) return
    toStep.value = null
    why.value = null
    done.value = 0
    stripped.value = false
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
        word={jobs.film}
        options={worded(['on', 'off'], (one) => jobs.films[one] ?? one)}
        picked={stripped.value ? 'off' : 'on'}
        onPick={(one) => {
          stripped.value = one === 'off'
        }}
      />
      <Choice
        word={jobs.sendBackWhy}
        options={worded(WHY, (code) => whyWord(words.value, code))}
        picked={why.value}
        onPick={(code) => {
          why.value = code
        }}
      />
      <div class="acts">
        <Press
          act="SendBackPanel"
          isMain
          isOff={to === null || why.value === null || commands.sending.value.busy}
          onPress={send}
        >
          {jobs.sendBackDo}
        </Press>
      </div>
    </Fold>
  )
}

/** The step that is due is not done: with the reason, which is kept. One touch, and it can be undone. */
export function SkipStep({ view, commands }: SendBackProps) {
  const { words } = useShop()
  const { jobs, stage } = words.value
  const { id, panel } = view
  const step = panel.route[dueStep(panel)]
  if (!step) return null
  return (
    <Fold word={`${jobs.skip}: ${stage[step.stage]}`} act="skip">
      <p class="minor">{jobs.skipWhy}</p>
      <Reasons
        options={worded(WHY, (code) => whyWord(words.value, code))}
        onReason={(reason) =>
          void commands.ask('SkipStep', { panel: id, step: dueStep(panel), reason })
        }
      />
    </Fold>
  )
}

type CurePartProps = {
  readonly state: State
  readonly view: PanelView
  readonly commands: Commands
  readonly now: number
}

/** The cure: started by air, heat or lamp, the part read while it bakes, and ended. */
export function CurePart({ state, view, commands, now }: CurePartProps) {
  const words = useWords()
  const { jobs, cautions } = words
  const { id, panel } = view
  const place = { panel: id, zone: zoneOf(panel), waits: { for: 'heat' as const } }
  const acts = heatActs(state, place, panel, words)
  // Before a coat is on its step's sheet says what there is.
  const plain = acts.length > 0 ? [] : cureModes(state, panel)
  const isStopped = isRefused(commands.sending.value, now)
  return (
    <section class="framed cure-part">
      <h2>{jobs.cure}</h2>
      <p class="minor">{cautions.bake}</p>
      {isCuring(view) ? (
        <Running state={state} view={view} commands={commands} now={now} />
      ) : (
        <div class="acts">
          {acts.map(({ key, label, data, isMain }) => (
            <button
              type="button"
              key={key}
              class={isMain && !isStopped ? 'main' : ''}
              data-cure={data.mode}
              disabled={commands.sending.value.busy}
              onClick={() => void commands.ask('StartCure', data)}
            >
              {label}
            </button>
          ))}
          {plain.map((mode, i) => (
            <button
              type="button"
              key={mode}
              class={i === 0 && !isStopped ? 'main' : ''}
              data-cure={mode}
              disabled={commands.sending.value.busy}
              onClick={() => void commands.ask('StartCure', { panels: [id], mode })}
            >
              {jobs.startCure(jobs.cures[mode] ?? mode)}
            </button>
          ))}
        </div>
      )}
    </section>
  )
}

function Running({ state, view, commands, now }: CurePartProps) {
  const { words, format } = useShop()
  const { jobs } = words.value
  const { id, panel } = view
  if (!panel.cure) return null
  const endsAt = cureEndsAt(state, panel)
  const part = lastPart(panel)
  const time = (ms: number) => format.value.timeAndDay(ms, now)
  const said = [
    jobs.curing(jobs.cures[panel.cure.mode] ?? panel.cure.mode, time(panel.cure.startedAt)),
    endsAt === null ? '' : jobs.endsAt(time(endsAt)),
    part ? format.value.temperature(part.partC) : jobs.unmeasured,
    part?.isEstimated ? historyIn(words.value).estimated : '',
  ]
  return (
    <>
      <p>{said.filter((text) => text !== '').join(' · ')}</p>
      <PartMeasured id={id} panel={panel} commands={commands} />
      <div class="acts">
        {panel.cure.mode === 'bake' && (
          <Press act="atTemperature" onPress={() => commands.ask('ReadPart', { panel: id })}>
            {atTemperatureText(state, panel, words.value)}
          </Press>
        )}
        <Press
          act="EndCure"
          isMain={endsAt !== null && now >= endsAt && !isRefused(commands.sending.value, now)}
          onPress={() => commands.ask('EndCure', { panels: [id] })}
        >
          {jobs.endCure}
        </Press>
      </div>
    </>
  )
}
