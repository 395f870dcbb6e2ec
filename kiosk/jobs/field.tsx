import type { Signal } from '@preact/signals'

type Props = {
  readonly name: string
  readonly word: string
  readonly value: Signal<string>
  readonly required?: boolean
}

/** A line to type in. What is typed stays through a refusal and a lost server. */
export function Field({ name, word, value, required = false }: Props) {
  return (
    <label class="field">
      <span class="minor">{word}</span>
      <input
        type="text"
        name={name}
        autocomplete="off"
        required={required}
        value={value.value}
        onInput={(e) => {
          value.value = e.currentTarget.value
        }}
      />
    </label>
  )
}
