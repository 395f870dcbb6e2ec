import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { contextOf, type State } from '../../machines/state.ts'
import { jobName, panelName } from '../commands/panelName.ts'
import { useShop } from '../commands/shop.ts'
import { Camera } from '../device/camera.tsx'
import { ActSheet } from '../lanes/actSheet.tsx'
import { lanesOf } from '../lanes/lanes.ts'
import { whatIs } from '../lanes/what.ts'
import { Sentence } from '../ui/answer.tsx'
import { fromHere } from '../ui/here.ts'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import * as ownWords from '../words/cupPage.ts'
import { useOwnWords } from '../words/words.ts'
import { CupScreen } from './cup.tsx'
import { LabelScreen } from './label.tsx'
import { ScannedThing } from './thing.tsx'

const goTo = (text: string) => {
  location.hash = hashOf('scan', text.trim())
}

/** What a label says, scanned or typed. The text is in the address, so that Back works. */
export function Scan({ kiosk, settings, rest }: ViewProps) {
  const { words } = useShop()
  const typed = useSignal('')
  const text = rest[0] ?? ''
  const { scan } = words.value
  const submit = (event: Event) => {
    event.preventDefault()
    if (typed.value.trim() !== '') goTo(typed.value)
    typed.value = ''
  }
  return (
    <div class="scan">
      <Said text={text} {...{ kiosk, settings }} />
      <div class="scan-entry">
        <form class="scan-form" onSubmit={submit}>
          <label>
            <span class="minor">{scan.type}</span>
            <input
              type="text"
              class="digits"
              name="code"
              autocomplete="off"
              autocapitalize="characters"
              spellcheck={false}
              value={typed.value}
              onInput={(e) => {
                typed.value = e.currentTarget.value
              }}
            />
          </label>
          <button type="submit">{scan.show}</button>
        </form>
        <Camera />
      </div>
    </div>
  )
}

type SaidProps = Pick<ViewProps, 'kiosk' | 'settings'> & { readonly text: string }

function Said({ text, kiosk, settings }: SaidProps) {
  const { state, words } = useShop()
  const say = useOwnWords(ownWords)
  const { nowMs } = kiosk.reading.value
  const isHere = fromHere()
  const what = state.value ? whatIs(state.value, text, nowMs) : null
  const isWrong = what !== null && ['problem', 'unknown', 'many'].includes(what.kind)
  // Once for each text, not for each second that it is on the screen.
  useEffect(() => {
    if (isWrong) kiosk.speaker.touch('error')
  }, [text, isWrong])
  if (!state.value || !what) return <p class="minor">…</p>
  const { scan } = words.value
  const leave = () => {
    if (isHere()) goTo('')
  }
  switch (what.kind) {
    case 'nothing':
      return <h2>{scan.title}</h2>
    case 'problem':
      return (
        <>
          <Sentence>{words.value.said.labels[what.problem.code](...what.problem.names)}</Sentence>
          {what.problem.says?.kind === 'cup' && (
            <LabelScreen label={what.problem.says} now={nowMs} />
          )}
        </>
      )
    case 'unknown':
      return <Sentence>{scan.unknown(what.id)}</Sentence>
    case 'many':
      return <Sentence>{scan.many(what.prefix)}</Sentence>
    case 'label':
      return <LabelScreen label={what.label} now={nowMs} />
    case 'cup':
      return (
        <CupScreen state={state.value} id={what.id} cup={what.cup} label={what.label} now={nowMs} />
      )
    case 'job':
      return <Leads to={hashOf('jobs', what.id)} name={jobTitle(state.value, what.id)} />
    case 'thing':
      return <ScannedThing state={state.value} code={what.code} settings={settings} now={nowMs} />
    case 'panel': {
      const lane = lanesOf(state.value, nowMs).find((l) => l.panel === what.id)
      if (lane) return <ActSheet state={state.value} lane={lane} now={nowMs} onDone={leave} />
      const panel = contextOf(state.value, 'panel', what.id)
      if (!panel) return <p class="sentence">{scan.unknown(what.id)}</p>
      return (
        <>
          <p class="sentence">{say.notInWork}</p>
          <Leads
            to={hashOf('jobs', panel.job, 'panel', what.id)}
            name={panelName(state.value, what.id)}
          />
        </>
      )
    }
  }
}

const jobTitle = (state: State, id: string): string => jobName(state, id)

/** What was scanned has a page of its own. */
function Leads({ to, name }: { to: string; name: string }) {
  return (
    <a class="button main" href={to}>
      {name}
    </a>
  )
}
