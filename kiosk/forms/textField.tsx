import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'

type FieldProps = {
  readonly name: string
  readonly word: string
  readonly value: string
  readonly onInput: (text: string) => void
  readonly required?: boolean
  /** The most characters that it takes. */
  readonly most?: number
  readonly isNumber?: boolean
  /** Written after what is typed. */
  readonly unit?: string
  /** What is wrong with it, in a sentence. */
  readonly wrong?: string | null
  /** A number to step with gloves on, up by 1 or down by -1. */
  readonly onStep?: (by: 1 | -1) => void
  readonly onLeave?: () => void
  /** What stands below it. */
  readonly children?: ComponentChildren
}

/** A line to type in. What is typed stays through a refusal and a lost server. */
export function Field(props: FieldProps) {
  const { name, word, value, unit = '', wrong = null, isNumber = false, onStep } = props
  const id = useId()
  const step = (by: 1 | -1, sign: string) =>
    onStep && (
      <button type="button" aria-label={`${word} ${sign}`} onClick={() => onStep(by)}>
        {sign}
      </button>
    )
  return (
    <div class="field" data-field={name} data-repeat={onStep && ''}>
      <label class="minor" for={id}>
        {word}
      </label>
      <span class="with-unit">
        {step(-1, '−')}
        <input
          type="text"
          id={id}
          name={name}
          autocomplete="off"
          inputmode={isNumber ? 'decimal' : 'text'}
          required={props.required}
          maxLength={props.most}
          aria-invalid={wrong !== null}
          aria-describedby={wrong === null ? undefined : `${id}-wrong`}
          value={value}
          onInput={(e) => props.onInput(e.currentTarget.value)}
          onBlur={props.onLeave}
        />
        {unit !== '' && <span>{unit}</span>}
        {step(1, '+')}
      </span>
      {props.children}
      {wrong !== null && (
        <p class="sentence" role="alert" id={`${id}-wrong`}>
          {wrong}
        </p>
      )}
    </div>
  )
}
