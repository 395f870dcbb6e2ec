import type { ReadonlySignal } from '@preact/signals'
import { useShop } from '../commands/shop.ts'
import { useHands } from '../device/handsContext.ts'
import { countdown } from '../units/format.ts'

/** What the last scan or the pedal came to, on every screen. */
export function HandsSaid({ now }: { now: ReadonlySignal<number> }) {
  const { words } = useShop()
  const { hands } = useHands()
  const said = hands.said.value
  if (said === null) return null
  const leftMs = said.clearsAt === undefined ? 0 : said.clearsAt - now.value
  return (
    <div class="hands-said" data-kind={said.kind} role={said.kind === 'done' ? 'status' : 'alert'}>
      <p>
        <b aria-hidden="true">{said.kind === 'done' ? '✓' : '!'}</b> {said.text}{' '}
        {leftMs > 0 && <b class="digits">{words.value.clearsIn(countdown(leftMs))}</b>}
      </p>
      <button type="button" onClick={hands.close}>
        {words.value.handsfree.close}
      </button>
    </div>
  )
}
