import { useSignal } from '@preact/signals'
import { useLayoutEffect } from 'preact/hooks'
import { encodeCommandCode, PRINTED_COMMANDS } from '../../labels/code.ts'
import { panelName } from '../commands/panelName.ts'
import { useShop } from '../commands/shop.ts'
import { useHands } from '../device/handsfree.ts'
import { isPedalKey } from '../device/pedal.ts'
import { lanesOf } from '../lanes/lanes.ts'
import { Sentence } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice } from '../ui/parts.tsx'
import type { ViewProps } from '../ui/screen.tsx'
import { Prints } from './prints.tsx'

/** The printable codes and panel tags, and the pedal of this kiosk. */
export function Codes({ kiosk }: ViewProps) {
  const { state, words } = useShop()
  const known = state.value
  const lanes = known ? lanesOf(known, kiosk.reading.value.nowMs) : []
  const named = known ? lanes.map(({ panel }) => ({ panel, name: panelName(known, panel) })) : []
  const { handsfree } = words.value
  return (
    <div class="codes">
      <section>
        <div class="codes-head">
          <h2>{handsfree.sheetTitle}</h2>
          <Press onPress={() => window.print()}>{handsfree.print}</Press>
        </div>
        <p class="minor">{handsfree.sheetHint}</p>
        <ul class="code-sheet">
          {PRINTED_COMMANDS.map((name) => (
            <li key={name}>
              <img
                src={`/api/labels/command/${name}.svg`}
                alt={encodeCommandCode(name)}
                width="120"
                height="120"
              />
              <b>{handsfree.codes[name]}</b>
            </li>
          ))}
        </ul>
      </section>
      <section>
        <h2>{handsfree.tagsTitle}</h2>
        {lanes.length === 0 && <p>{handsfree.noTags}</p>}
        <ul class="code-sheet tags">
          {named.map((lane) => (
            <li key={lane.panel}>
              <img class="tag" src={`/api/labels/panel/${lane.panel}.svg`} alt={lane.name} />
            </li>
          ))}
        </ul>
      </section>
      {state.value && <Prints state={state.value} now={kiosk.reading.value.nowMs} />}
      <PedalSetup lanes={named} />
    </div>
  )
}

function PedalSetup({ lanes }: { lanes: readonly { panel: string; name: string }[] }) {
  const { words } = useShop()
  const { pedal } = useHands()
  const isLearning = useSignal(false)
  const refused = useSignal<string | null>(null)
  const { handsfree } = words.value
  const { key, panel } = pedal.is.value
  // With the words on the screen, not a frame later: a foot may be quick.
  useLayoutEffect(() => {
    if (!isLearning.value) return
    const learn = (event: KeyboardEvent) => {
      event.preventDefault()
      event.stopImmediatePropagation()
      const { key } = event
      // A key that will not do is said, and the next one listened for; Escape ends it.
      isLearning.value = !isPedalKey(key) && key !== 'Escape'
      refused.value = isLearning.value ? key : null
      if (isPedalKey(key)) pedal.set({ ...pedal.is.value, key })
    }
    addEventListener('keydown', learn, { capture: true })
    return () => removeEventListener('keydown', learn, { capture: true })
  }, [isLearning.value])
  const choices = [{ panel: null, name: handsfree.pedalLast }, ...lanes]
  return (
    <section class="pedal">
      <h2>{handsfree.pedal}</h2>
      <p class="minor">{handsfree.pedalHint}</p>
      {refused.value !== null && <Sentence>{handsfree.pedalRefused(refused.value)}</Sentence>}
      <div class="choices">
        <p role="status">
          {isLearning.value
            ? handsfree.pedalPress
            : key === null
              ? handsfree.pedalNone
              : handsfree.pedalKey(key)}
        </p>
        <button
          type="button"
          aria-pressed={isLearning.value}
          onClick={() => {
            isLearning.value = !isLearning.value
          }}
        >
          {handsfree.pedalLearn}
        </button>
        {key !== null && (
          <Press onPress={() => pedal.set({ key: null, panel: null })}>
            {handsfree.pedalForget}
          </Press>
        )}
      </div>
      {key !== null && (
        <Choice
          word={handsfree.pedalFor}
          picked={panel ?? ''}
          options={choices.map((one) => ({ value: one.panel ?? '', word: one.name }))}
          onPick={(one) => pedal.set({ key, panel: one === '' ? null : one })}
        />
      )}
    </section>
  )
}
