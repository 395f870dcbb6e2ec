import type { Signal } from '@preact/signals'
import type { Sheet } from '../../machines/sheet/schema.ts'
import { useShop } from '../commands/shop.ts'
import { Field } from '../forms/textField.tsx'
import { Fold } from '../ui/fold.tsx'
import type { Draft } from './draft.ts'

/** Lot numbers, for shops that keep them; out of the way of those that do not. */
export function Lots({ sheet, draft }: { sheet: Sheet; draft: Signal<Draft> }) {
  const { words } = useShop()
  const { bench } = words.value
  return (
    <Fold word={bench.lots} act="lots">
      {sheet.components.map(({ name }) => (
        <Field
          key={name}
          name={`lot-${name}`}
          word={bench.lot(name)}
          most={60}
          value={draft.value.lots[name] ?? ''}
          onInput={(lot) => {
            draft.value = { ...draft.value, lots: { ...draft.value.lots, [name]: lot } }
          }}
        />
      ))}
    </Fold>
  )
}
