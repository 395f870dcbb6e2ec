import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks'
import { useWords } from '../commands/shop.ts'
import { BAUDS, type Connection, connectScale, hasSerial } from '../device/serialLine.ts'
import { Keypad } from '../forms/keypad.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold } from '../ui/parts.tsx'

type ScaleProps = {
  /** How many pours and tares went before. */
  readonly count: number
  /** What the scale shows once it is in, g; null where it is filled to a mark. */
  readonly askedG: number | null
  /** What is wrong with the last reading. */
  readonly wrong: string | null
  /** As the scale shows it, with its unit. */
  readonly grams: (g: number) => string
  readonly onAsShown: () => void
  /** @returns whether the reading was taken */
  readonly onReading: (text: string) => boolean
  /** What ends the pouring. */
  readonly children: ComponentChildren
}

/** One pour: as it is asked for, by one touch, or what the scale shows: typed, typed by it, or on its line. */
export function Scale({ count, askedG, wrong, grams, onAsShown, onReading, children }: ScaleProps) {
  const { bench } = useWords()
  const text = useSignal('')
  const field = useRef<HTMLInputElement>(null)
  // Where a bell leaves little room, what to pour stays in sight above the field.
  const focus = () => field.current?.focus({ preventScroll: true })
  // A scale that types does it into the field: it has the focus from the start and after each pour,
  // also one that was touched. Its Enter would else press the button once more. Before the
  // paint: of a reading that comes at once the first digit would be lost, and 12.4 passes for 212.4.
  useLayoutEffect(focus, [count])
  const take = (reading: string) => {
    if (onReading(reading)) text.value = ''
    focus()
  }
  const shown = () => {
    // Keys typed before are not part of the next reading.
    text.value = ''
    onAsShown()
  }
  const asShown = (
    <Press act="asShown" isMain onPress={shown}>
      {askedG === null ? bench.atMark : bench.asShown(grams(askedG))}
    </Press>
  )
  if (askedG === null)
    return (
      <>
        <p class="minor">{bench.byMarks}</p>
        <div class="acts">{asShown}</div>
        {children}
      </>
    )
  return (
    <form
      class="scale-form"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        take(text.value)
      }}
    >
      <div>
        <div class="acts">{asShown}</div>
        <label class="field">
          <span class="minor">{bench.reading}</span>
          <span class="with-unit">
            <input
              ref={field}
              type="text"
              name="reading"
              data-scale
              inputmode="decimal"
              autocomplete="off"
              aria-invalid={wrong !== null}
              aria-describedby={wrong === null ? 'scale-hint' : 'scale-wrong'}
              value={text.value}
              onInput={(e) => {
                text.value = e.currentTarget.value
              }}
            />
            <span>g</span>
            <button type="submit" data-act="take">
              {bench.take}
            </button>
          </span>
        </label>
        {wrong === null ? (
          <p class="minor" id="scale-hint">
            {bench.keyboardScale}
          </p>
        ) : (
          <p class="sentence" role="alert" id="scale-wrong">
            {wrong}
          </p>
        )}
        {children}
        <SerialScale grams={grams} onTake={(g) => take(String(g))} />
      </div>
      <Keypad />
    </form>
  )
}

const USUAL_BAUD = 9600

type SerialScaleProps = {
  /** As the scale shows it, with its unit. */
  readonly grams: (g: number) => string
  readonly onTake: (g: number) => void
}

/** A scale on a cable, where this browser can speak to one. Its reading is taken by a touch. */
function SerialScale({ grams, onTake }: SerialScaleProps) {
  const { bench } = useWords()
  const live = useSignal<number | null>(null)
  const isLost = useSignal(false)
  const isOn = useSignal(false)
  const baud = useSignal<number>(USUAL_BAUD)
  const connection = useRef<Connection | null>(null)
  const stop = () => {
    void connection.current?.stop()
    connection.current = null
    isOn.value = false
    live.value = null
  }
  useEffect(() => stop, [])
  const connect = async () => {
    isLost.value = false
    connection.current = await connectScale(
      navigator,
      baud.value,
      (g) => {
        live.value = g
      },
      () => {
        stop()
        isLost.value = true
      },
    )
    isOn.value = connection.current !== null
    isLost.value = !isOn.value
  }
  if (!hasSerial(navigator)) return null
  if (isOn.value)
    return (
      <div class="acts">
        <Press
          isMain
          isOff={live.value === null}
          onPress={() => live.value !== null && onTake(live.value)}
        >
          <span>
            {bench.take}
            <small class="digits">
              {bench.live(live.value === null ? '…' : grams(live.value))}
            </small>
          </span>
        </Press>
        <Press onPress={stop}>{bench.disconnect}</Press>
      </div>
    )
  return (
    <Fold word={bench.serial} act="serial">
      <Choice
        name="baud"
        word={bench.baud}
        picked={String(baud.value)}
        options={BAUDS.map((b) => ({ value: String(b), word: String(b) }))}
        onPick={(b) => {
          baud.value = Number(b)
        }}
      />
      <Press onPress={connect}>{bench.connect}</Press>
      {isLost.value && <p class="sentence">{bench.serialLost}</p>}
    </Fold>
  )
}
