import type { Signal } from '@preact/signals'

type Option = { readonly value: string; readonly word: string }
type Props = {
  readonly name: string
  readonly picked: Signal<string>
  readonly options: readonly Option[]
  /** Called for a pick, besides the signal. */
  readonly onPick?: (value: string) => void
}

/** One of a few, as buttons: no list to unfold with gloves on. */
export function Choice({ name, picked, options, onPick }: Props) {
  return (
    <fieldset class="choice">
      <legend class="minor">{name}</legend>
      {options.map(({ value, word }) => (
        <button
          type="button"
          key={value}
          data-value={value}
          aria-pressed={picked.value === value}
          onClick={() => {
            picked.value = value
            onPick?.(value)
          }}
        >
          {word}
        </button>
      ))}
    </fieldset>
  )
}
