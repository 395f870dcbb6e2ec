import { useSignal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { dusted, fieldText, nextStep, readNumber, type Unit } from '../units/measure.ts'

type Props = {
  readonly name: string
  readonly word: string
  /** In SI; null where nothing is known. */
  readonly value: number | null
  readonly unit: Unit
  /** In SI. */
  readonly least?: number
  readonly onChange: (si: number | null) => void
}

/** A number to step with gloves on, or to type. */
export function NumberField({ name, word, value, unit, least = 0, onChange }: Props) {
  const { words, format } = useShop()
  const { bench } = words.value
  // Text being typed stays as typed until the field is left: "1." is not a number yet, and not a mistake.
  const typed = useSignal<string | null>(null)
  const shown = value === null ? '' : fieldText(dusted(unit.fromSi(value)), format.value.comma)
  const text = typed.value ?? shown
  const isWrong = text.trim() !== '' && readNumber(text) === null
  const step = (by: 1 | -1) => {
    typed.value = null
    const next = nextStep(value === null ? 0 : unit.fromSi(value), unit.step, by)
    onChange(Math.max(least, dusted(unit.toSi(next))))
  }
  return (
    <fieldset class="number" data-number={name} data-repeat>
      <legend class="minor">{word}</legend>
      <button type="button" aria-label={`${word} −`} onClick={() => step(-1)}>
        −
      </button>
      <span class="with-unit">
        <input
          type="text"
          name={name}
          aria-label={word}
          autocomplete="off"
          inputmode="decimal"
          aria-invalid={isWrong}
          value={text}
          onInput={(e) => {
            typed.value = e.currentTarget.value
            const number = readNumber(typed.value)
            if (typed.value.trim() === '') onChange(null)
            else if (number !== null) onChange(dusted(unit.toSi(number)))
          }}
          onBlur={() => {
            if (!isWrong) typed.value = null
          }}
        />
        <span>{unit.word}</span>
      </span>
      <button type="button" aria-label={`${word} +`} onClick={() => step(1)}>
        +
      </button>
      {isWrong && (
        <p class="sentence" role="alert">
          {bench.noNumber(word, text, fieldText(12.5, format.value.comma))}{' '}
          {value !== null && bench.numberStands}
        </p>
      )}
    </fieldset>
  )
}
