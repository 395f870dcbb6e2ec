import type { Signal } from '@preact/signals'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { useShop } from '../commands/shop.ts'
import type { Draft } from './draft.ts'

/** Lot numbers, for shops that keep them; out of the way of those that do not. */
export function Lots({ sheet, draft }: { sheet: Sheet; draft: Signal<Draft> }) {
  const { words } = useShop()
  const { bench } = words.value
  return (
    <details class="lots">
      <summary class="button">{bench.lots}</summary>
      {sheet.components.map(({ name }) => (
        <label class="field" key={name}>
          <span class="minor">{bench.lot(name)}</span>
          <input
            type="text"
            name={`lot-${name}`}
            autocomplete="off"
            maxLength={60}
            value={draft.value.lots[name] ?? ''}
            onInput={(e) => {
              const { lots } = draft.value
              draft.value = { ...draft.value, lots: { ...lots, [name]: e.currentTarget.value } }
            }}
          />
        </label>
      ))}
    </details>
  )
}
