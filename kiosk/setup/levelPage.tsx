import { useEffect } from 'preact/hooks'
import { check } from '../../machines/accept.ts'
import type { LevelRecord } from '../../machines/devices/context.ts'
import { devicesOf } from '../../machines/devices/fold.ts'
import { type Level as LevelData, levelSchema, levelVerdict } from '../../machines/devices/level.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { playTestSignal } from '../bells/sound/testSignal.ts'
import { useShop } from '../commands/shop.ts'
import { read } from '../forms/draft.ts'
import { FormOf, useForm } from '../forms/form.tsx'
import type { ViewProps } from '../ui/screen.tsx'
import * as own from '../words/level.ts'
import { setupIn } from '../words/setupIn.ts'
import { useOwnWords } from '../words/words.ts'
import { LEVEL } from './forms.ts'
import { BackHead } from './parts.tsx'
import { Level, SoundButtons } from './thisKiosk.tsx'

type Props = ViewProps & { readonly state: State; readonly now: number }

/** How loud the bells are where the work is: a test signal, a form, the results. */
export function LevelPage({ kiosk, settings, state, now }: Props) {
  const { words } = useShop()
  const setup = setupIn(words.value)
  const say = useOwnWords(own)
  return (
    <section class="stack level-page">
      <BackHead section="kiosk" title={say.title} />
      <p>{say.how}</p>
      <div class="columns">
        <TestSignal kiosk={kiosk} />
        <Level kiosk={kiosk} settings={settings} />
        <section class="stack">
          <h2>{setup.listen}</h2>
          <SoundButtons onPlay={(sound) => kiosk.speaker.play(sound)} />
        </section>
      </div>
      <h2>{say.measured}</h2>
      <Measured now={now} />
      <h2>{say.list}</h2>
      <Commissioned state={state} />
    </section>
  )
}

function TestSignal({ kiosk: { speaker } }: Pick<ViewProps, 'kiosk'>) {
  const say = useOwnWords(own)
  const sounds = speaker.isTesting.value
  // Leaving the page stops the signal.
  useEffect(() => () => speaker.stopTest(), [speaker])
  const start = async () => {
    if (speaker.soundReady.value || (await speaker.wake()))
      speaker.startTest((ctx, how) => playTestSignal(ctx, how, Math.random))
  }
  return (
    <section class="stack">
      <h2>{say.signal}</h2>
      <div class="choices">
        <button
          type="button"
          class="main"
          data-act="signal"
          aria-pressed={sounds}
          onClick={() => (sounds ? speaker.stopTest() : void start())}
        >
          {sounds ? say.stop : say.start}
        </button>
      </div>
      {sounds && <p role="status">{say.sounds}</p>}
      {speaker.sound.value === 'silent' && <p class="minor">{say.noSound}</p>}
    </section>
  )
}

/** The form, and its result before it is saved. */
function Measured({ now }: { now: number }) {
  const say = useOwnWords(own)
  const draft = useForm('level', LEVEL)
  const typed = check<LevelData>(levelSchema, read({ kind: 'group', fields: LEVEL }, draft.value))
  return (
    <FormOf
      name="level"
      fields={LEVEL}
      draft={draft}
      schema={levelSchema}
      type="CommissionLevel"
      data={(value) => value}
      now={now}
      word={say.save}
    >
      <p class="minor">{say.limits}</p>
      {typed.ok && <Verdict level={typed.value} />}
    </FormOf>
  )
}

function Verdict({ level }: { level: LevelData }) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const { passes, reachesTarget, overDb } = levelVerdict(level)
  return (
    <p class={passes ? undefined : 'sentence'} role="status" data-passes={passes}>
      {passes && <span aria-hidden="true">✓ </span>}
      {say.over(format.value.number(overDb, 1))}{' '}
      {passes ? (reachesTarget ? `${say.passes} ${say.target}` : say.noTarget) : say.fails}
    </p>
  )
}

/** The newest of each place, the last one first. */
function Commissioned({ state }: { state: State }) {
  const say = useOwnWords(own)
  const levels = devicesOf(state).levels.toSorted((a, b) => b.at - a.at)
  if (levels.length === 0) return <p class="minor">{say.none}</p>
  return (
    <ul class="rows commissioned">
      {levels.map((level) => (
        <li key={level.place} data-place={level.place}>
          <b>{level.place}</b>
          <LevelLine level={level} state={state} />
          <Verdict level={level} />
        </li>
      ))}
    </ul>
  )
}

function LevelLine({ level, state }: { level: LevelRecord; state: State }) {
  const { format } = useShop()
  const say = useOwnWords(own)
  const { number, fullDate, time } = format.value
  const person = contextOf(state, 'person', level.by ?? undefined)?.name
  const parts = [
    say.line(number(level.signalDb, 1), number(level.ambientDb, 1)),
    level.thirdOctaveDb === undefined ? '' : say.third(number(level.thirdOctaveDb, 1)),
    level.siteSignedOff === true ? say.signedOff : '',
  ]
  return (
    <p class="minor">
      {parts.filter((part) => part !== '').join(' · ')}
      <br />
      {fullDate(level.at)} {time(level.at)} · {person ?? level.by ?? say.nobody}
    </p>
  )
}
