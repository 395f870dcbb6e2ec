type Option = { readonly value: string; readonly word: string; readonly small?: string }
type Props = {
  /** Tells this choice from others on the page. */
  readonly name?: string
  readonly word?: string
  /** One, or for several the list of those that are picked; null for none yet. */
  readonly picked: string | readonly string[] | null
  readonly options: readonly Option[]
  readonly onPick: (value: string) => void
}

/** A few to choose from, as buttons: no list to unfold with gloves on. The chosen one has a tick: fill alone is a color. */
export function Choice({ name, word, picked, options, onPick }: Props) {
  const isPicked = (value: string) =>
    picked === value || (Array.isArray(picked) && picked.includes(value))
  return (
    <fieldset class="choice" data-pick={name}>
      {word !== undefined && <legend class="minor">{word}</legend>}
      {options.map(({ value, word: says, small }) => (
        <button
          type="button"
          key={value}
          data-value={value}
          aria-pressed={isPicked(value)}
          onClick={() => onPick(value)}
        >
          {isPicked(value) && <Tick />}
          <span>
            {says}
            {small !== undefined && <small>{small}</small>}
          </span>
        </button>
      ))}
    </fieldset>
  )
}

/** Options of which each value has its word. */
export const worded = (
  values: readonly string[],
  wordOf: (value: string) => string,
): readonly Option[] => values.map((value) => ({ value, word: wordOf(value) }))

export const Tick = () => (
  <span class="tick" aria-hidden="true">
    ✓
  </span>
)
