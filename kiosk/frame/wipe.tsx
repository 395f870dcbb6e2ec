import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { useShop } from '../commands/shop.ts'
import { wantsWipe } from '../device/touchRules.ts'

const WIPE_S = 20

/** Twenty seconds in which no touch counts, for wiping the glass. */
export function Wipe() {
  const { words } = useShop()
  const left = useSignal(WIPE_S)
  useEffect(() => {
    const timer = setInterval(() => {
      left.value -= 1
      if (left.value <= 0) wantsWipe.value = false
    }, 1_000)
    return () => clearInterval(timer)
  }, [])
  return (
    <div class="wipe" role="alertdialog" aria-modal="true" aria-labelledby="wipe-title">
      <p id="wipe-title">{words.value.board.wiping(left.value)}</p>
    </div>
  )
}
