import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { Keypad } from '../forms/keypad.tsx'
import { SerialScale } from './serialScale.tsx'

type Props = {
  /** How many pours went before. */
  readonly count: number
  readonly isWeighed: boolean
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

/** One pour: as shown by one touch, or what the scale shows: typed, typed by it, or on its line. */
export function Scale({ count, isWeighed, wrong, grams, onAsShown, onReading, children }: Props) {
  const { words } = useShop()
  const { bench } = words.value
  const text = useSignal('')
  const field = useRef<HTMLInputElement>(null)
  // A scale that types does it into the field: it has the focus from the start and after each pour,
  // also one that was touched. Its Enter would else press the button once more.
  useEffect(() => field.current?.focus(), [count])
  const take = (reading: string) => {
    if (onReading(reading)) text.value = ''
    field.current?.focus()
  }
  const shown = () => {
    // Keys typed before are not part of the next reading.
    text.value = ''
    onAsShown()
  }
  const asShown = (
    <button type="button" class="main" data-act="asShown" onClick={shown}>
      {bench.asShown}
    </button>
  )
  if (!isWeighed)
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
