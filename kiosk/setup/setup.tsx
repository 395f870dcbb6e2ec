import type { ComponentType } from 'preact'
import { useShop } from '../commands/shop.ts'
import { screenNow } from '../device/runtime.ts'
import { LEVEL_PAGE } from '../device/settings.ts'
import { hashOf } from '../ui/route.ts'
import type { ViewProps } from '../ui/screen.tsx'
import { setupIn } from '../words/setupIn.ts'
import { Backup } from './backup.tsx'
import { Bells } from './bells.tsx'
import { LevelPage } from './levelPage.tsx'
import { MEANINGS, Meanings } from './parts.tsx'
import { Printers } from './printers.tsx'
import { Sheets } from './sheets.tsx'
import { ShopSettings } from './shopSettings.tsx'
import { Compressors, Guns, People, type SectionProps, Zones } from './things.tsx'
import { ThisKiosk } from './thisKiosk.tsx'
import { Watching } from './watching.tsx'

const SHOP_SECTIONS = {
  sheets: Sheets,
  guns: Guns,
  air: Compressors,
  zones: Zones,
  people: People,
  bells: Bells,
  printers: Printers,
  shop: ShopSettings,
  backup: Backup,
  watching: Watching,
} as const satisfies Record<string, ComponentType<SectionProps>>
type ShopSection = keyof typeof SHOP_SECTIONS

const isShopSection = (name: string | undefined): name is ShopSection =>
  name !== undefined && Object.hasOwn(SHOP_SECTIONS, name)
const SECTIONS = ['kiosk', ...(Object.keys(SHOP_SECTIONS) as ShopSection[])] as const

/** What is set up once: this kiosk, and what the whole shop shares. */
export function Setup(props: ViewProps) {
  const { state, words } = useShop()
  const [section, ...rest] = props.rest
  const shown = isShopSection(section) ? section : 'kiosk'
  const View = isShopSection(section) ? SHOP_SECTIONS[section] : null
  const now = screenNow(props.kiosk).value
  return (
    <div class="setup">
      <nav
        class="sections"
        data-within={rest.some((part) => part !== '') || undefined}
        aria-label={words.value.screens.setup}
      >
        {SECTIONS.map((name) => (
          <a
            class="button"
            key={name}
            href={hashOf('setup', name)}
            aria-current={name === shown ? 'page' : undefined}
          >
            {setupIn(words.value).sections[name]}
          </a>
        ))}
      </nav>
      {section === MEANINGS ? (
        <Meanings />
      ) : section === LEVEL_PAGE && state.value ? (
        <LevelPage {...props} state={state.value} now={now} />
      ) : View === null ? (
        <ThisKiosk {...props} />
      ) : state.value ? (
        <View key={section} state={state.value} now={now} rest={rest} />
      ) : (
        <p class="minor">…</p>
      )}
    </div>
  )
}
