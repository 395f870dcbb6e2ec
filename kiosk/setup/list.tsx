import { useShop } from '../commands/shop.ts'
import { Hold } from '../ui/hold.tsx'
import { PageHead } from '../ui/pageHead.tsx'
import { hashOf } from '../ui/route.ts'

type Row = { readonly id: string; readonly name: string; readonly about: string }

/** The things of one kind in a shop: a touch on a row changes it. */
export function Rows({ section, rows }: { section: string; rows: readonly Row[] }) {
  const { words } = useShop()
  if (rows.length === 0) return <p class="minor">{words.value.setup.none}</p>
  return (
    <ul class="rows setup-rows">
      {rows.map(({ id, name, about }) => (
        <li key={id}>
          <a class="button row" href={hashOf('setup', section, id)}>
            <b>{name}</b>
            {about !== '' && <span class="minor">{about}</span>}
          </a>
        </li>
      ))}
    </ul>
  )
}

/** The head of what is below a list: the way back to it, and what this is. */
export function BackHead({ section, title }: { section: string; title: string }) {
  const { setup } = useShop().words.value
  return <PageHead title={title} back={setup.back} backTo={hashOf('setup', section)} />
}

/** Takes something out of use: it needs a press of one second. */
export function Retire({ onHeld }: { onHeld: () => void }) {
  const { words } = useShop()
  return (
    <div class="retire">
      <Hold onHeld={onHeld}>
        <span>
          {words.value.setup.retire}
          <small>{words.value.act.hold}</small>
        </span>
      </Hold>
    </div>
  )
}
