type Option = { readonly value: string; readonly word: string; readonly small?: string }
type Props = {
  readonly name: string
  readonly word: string
  /** One, or for several the list of those that are picked. */
  readonly picked: string | readonly string[]
  readonly options: readonly Option[]
  readonly onPick: (value: string) => void
}

/** A few to choose from, as buttons. */
export function Pick({ name, word, picked, options, onPick }: Props) {
  return (
    <fieldset class="choice" data-pick={name}>
      <legend class="minor">{word}</legend>
      {options.map(({ value, word: says, small }) => (
        <button
          type="button"
          key={value}
          data-value={value}
          aria-pressed={typeof picked === 'string' ? picked === value : picked.includes(value)}
          onClick={() => onPick(value)}
        >
          <span>
            {says}
            {small !== undefined && <small>{small}</small>}
          </span>
        </button>
      ))}
    </fieldset>
  )
}
