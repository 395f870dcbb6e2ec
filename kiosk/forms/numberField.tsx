import { useSignal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { doubtOf } from '../units/doubt.ts'
import { dusted, fieldText, type Measure, nextStep, readNumber, unitOf } from '../units/measure.ts'
import type { NumberSpec } from './spec.ts'
import { Field } from './textField.tsx'

type Props = {
  readonly name: string
  readonly word: string
  readonly spec: NumberSpec
  /** In SI; null where nothing is known. */
  readonly value: number | null
  /** What one touch adds, in the shown unit; without it the unit's own. */
  readonly step?: number
  /** In SI; without it what the schema accepts, and one step where that is above zero. */
  readonly least?: number
  readonly onChange: (si: number | null) => void
}

/** A number to step with gloves on, or to type. */
export function NumberField({ name, word, spec, value, onChange, ...props }: Props) {
  const { words, format } = useShop()
  const { bench } = words.value
  const unit = unitOf(spec.measure, format.value.units)
  const step = props.step ?? unit.step
  const least = props.least ?? (spec.least > 0 ? Math.max(spec.least, unit.toSi(step)) : spec.least)
  // Text being typed stays as typed until the field is left: "1." is not a number yet, and not a mistake.
  const typed = useSignal<string | null>(null)
  const shown = value === null ? '' : fieldText(dusted(unit.fromSi(value)))
  const text = typed.value ?? shown
  const isWrong = text.trim() !== '' && readNumber(text) === null
  const sentence = `${bench.noNumber(word, text, fieldText(12.5))} ${value === null ? '' : bench.numberStands}`
  return (
    <Field
      name={name}
      word={word}
      value={text}
      isNumber
      unit={unit.word === '' ? words.value.said.unit(spec.unit) : unit.word}
      wrong={isWrong ? sentence : null}
      onInput={(to) => {
        typed.value = to
        const number = readNumber(to)
        if (to.trim() === '') onChange(null)
        else if (number !== null) onChange(dusted(unit.toSi(number)))
      }}
      onStep={(by) => {
        typed.value = null
        const next = nextStep(value === null ? 0 : unit.fromSi(value), step, by)
        onChange(Math.max(least, dusted(unit.toSi(next))))
      }}
      onLeave={() => {
        if (!isWrong) typed.value = null
      }}
    >
      <Doubt
        name={name}
        text={text}
        measure={spec.measure}
        onMeant={(meant, si) => {
          typed.value = meant
          onChange(si)
        }}
      />
    </Field>
  )
}

type DoubtProps = {
  readonly name: string
  readonly text: string
  readonly measure: Measure
  readonly onMeant: (typed: string, si: number) => void
}

/** Asks whether a number was meant in the other unit: 29 as bar. A touch takes it. */
export function Doubt({ name, text, measure, onMeant }: DoubtProps) {
  const { words, format } = useShop()
  const { units } = format.value
  const doubt = doubtOf(text, measure, units)
  if (doubt === null) return null
  const meant = `${doubt.typed} ${unitOf(measure, units).word}`
  return (
    <button type="button" data-doubt={name} onClick={() => onMeant(doubt.typed, doubt.stored)}>
      {words.value.setup.doubt(text, doubt.unit, meant)}
    </button>
  )
}
