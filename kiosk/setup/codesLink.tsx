import { useShop } from '../commands/shop.ts'
import { useHands } from '../device/handsContext.ts'
import { hashOf } from '../ui/route.ts'

/** The way from Setup to the printable codes and the pedal, and whether the display may go dark. */
export function CodesLink() {
  const { words } = useShop()
  const { awake } = useHands()
  return (
    <section class="stack">
      <a class="button" href={hashOf('codes')}>
        {words.value.handsfree.link}
      </a>
      <p class="minor" data-awake={awake.value}>
        {words.value.handsfree.display[awake.value]}
      </p>
    </section>
  )
}
