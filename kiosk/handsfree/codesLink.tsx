import { hashOf } from '../route.ts'
import { useShop } from '../shop/context.ts'

/** The way from Setup to the printable codes and the pedal. */
export function CodesLink() {
  const { words } = useShop()
  return (
    <section class="stack">
      <a class="button" href={hashOf('codes')}>
        {words.value.handsfree.link}
      </a>
    </section>
  )
}
