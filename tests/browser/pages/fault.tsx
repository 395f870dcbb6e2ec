import { signal } from '@preact/signals'
import { render } from 'preact'
import { ShopProvider, type ShopView } from '../../../kiosk/commands/shop.ts'
import { Guarded } from '../../../kiosk/ui/screen.tsx'
import { formatOf } from '../../../kiosk/units/format.ts'
import { en } from '../../../kiosk/words/all.ts'

/** A screen that fails while the page says so, beside one that does not. */

const isBroken = signal(false)
const count = signal(0)

function Fragile() {
  if (isBroken.value) throw new Error('This lane has no route.')
  return <p class="fragile">whole</p>
}

const shop: ShopView = {
  state: signal(null),
  link: signal('live'),
  words: signal(en),
  format: signal(formatOf({})),
  send: async () => ({ kind: 'away' }),
}
declare global {
  interface Window {
    faulty: { broken: (is: boolean) => void; tick: () => void }
  }
}
window.faulty = {
  broken: (is) => {
    isBroken.value = is
  },
  tick: () => {
    count.value += 1
  },
}
const Beside = () => <output class="beside">{count.value}</output>

const root = document.querySelector('#kiosk')
if (root)
  render(
    <ShopProvider value={shop}>
      <Beside />
      <Guarded>
        <Fragile />
      </Guarded>
    </ShopProvider>,
    root,
  )
