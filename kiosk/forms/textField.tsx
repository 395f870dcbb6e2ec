type FieldProps = {
  readonly name: string
  readonly word: string
  readonly value: string
  readonly onInput: (text: string) => void
  readonly required?: boolean
}

/** A line to type in. What is typed stays through a refusal and a lost server. */
export function Field({ name, word, value, onInput, required = false }: FieldProps) {
  return (
    <label class="field">
      <span class="minor">{word}</span>
      <input
        type="text"
        name={name}
        autocomplete="off"
        required={required}
        value={value}
        onInput={(e) => onInput(e.currentTarget.value)}
      />
    </label>
  )
}
