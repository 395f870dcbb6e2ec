type FieldProps = {
  readonly name: string
  readonly word: string
  readonly value: string
  readonly onInput: (text: string) => void
  readonly required?: boolean
  /** The most characters that it takes. */
  readonly most?: number
}

/** A line to type in. What is typed stays through a refusal and a lost server. */
export function Field({ name, word, value, onInput, required = false, most }: FieldProps) {
  return (
    <label class="field">
      <span class="minor">{word}</span>
      <input
        type="text"
        name={name}
        autocomplete="off"
        required={required}
        maxLength={most}
        value={value}
        onInput={(e) => onInput(e.currentTarget.value)}
      />
    </label>
  )
}
