import { settingsOf } from '../../machines/shop/settings.ts'
import { type Settings, settingsSchema } from '../../machines/shop/settingsSchema.ts'
import { useShop } from '../commands/shop.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Form } from '../forms/form.tsx'
import { Answer } from '../ui/answer.tsx'
import { Choice, worded } from '../ui/parts.tsx'
import { setupIn } from '../words/setupIn.ts'
import { SHOP } from './forms.ts'
import type { SectionProps } from './things.tsx'

/** What holds for the whole shop: its language, its units, its hours, its limits. */
export function ShopSettings({ state, now }: SectionProps) {
  const { words } = useShop()
  const { sending, ask } = useCommands()
  const setup = setupIn(words.value)
  const settings = settingsOf(state)
  const { units = {} } = settings
  const set = (change: Settings) => void ask('ChangeSettings', change)
  const unitWord = (value: string): string =>
    setup.unitNames[value as keyof typeof setup.unitNames] ?? value
  const one = <W extends string>(
    name: string,
    of: readonly W[],
    word: (value: W) => string,
    picked: W,
    onPick: (value: W) => void,
  ) => (
    <Choice
      word={name}
      options={worded(of, (value) => word(value as W))}
      picked={picked}
      onPick={(value) => onPick(value as W)}
    />
  )
  const { shopName, timeZone, hours, bells, limits, colour } = settings
  return (
    <>
      <div class="columns">
        {one(
          setup.language,
          ['en', 'es'],
          (l) => setup.languages[l],
          settings.language ?? 'en',
          (language) => set({ language }),
        )}
        {one(setup.temperature, ['C', 'F'], unitWord, units.temperature ?? 'C', (temperature) =>
          set({ units: { temperature } }),
        )}
        {one(setup.volume, ['mL', 'flOz'], unitWord, units.volume ?? 'mL', (volume) =>
          set({ units: { volume } }),
        )}
        {one(setup.pressure, ['bar', 'psi'], unitWord, units.pressure ?? 'bar', (pressure) =>
          set({ units: { pressure } }),
        )}
        {one(
          setup.clock,
          ['24h', '12h'],
          (c) => setup.clocks[c],
          settings.clock ?? '24h',
          (clock) => set({ clock }),
        )}
      </div>
      <p class="minor">{setup.unitsNote}</p>
      <Answer sending={sending.value} now={now} />
      <h2>{setup.shopMore}</h2>
      <Form
        name="shop"
        fields={SHOP}
        original={{ shopName, timeZone, hours, bells, limits, colour }}
        isStored
        schema={settingsSchema}
        type="ChangeSettings"
        data={(value) => value}
        now={now}
        word={setup.save}
      />
    </>
  )
}
