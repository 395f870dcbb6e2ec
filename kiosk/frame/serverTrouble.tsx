import { useComputed } from '@preact/signals'
import { type ServerView, useServer } from '../commands/shop.ts'
import type { Kiosk } from '../device/runtime.ts'
import { again } from '../ui/again.ts'
import { later } from '../ui/screen.tsx'

/** Fetched once the Wall stands, or with the first of them. */
export const serverNotices = () => again(() => import('./serverNotices.tsx'))
const Notices = later(async () => (await serverNotices()).ServerNotices)

const hasTrouble = ({ said, memory, tail }: ServerView): boolean => {
  const { clock, disk, loss, backup, printing } = said.value ?? {}
  return Boolean(
    clock?.doubt ||
      disk ||
      loss ||
      backup ||
      printing ||
      memory.gone.value ||
      tail.reset.value !== null,
  )
}

/** What is wrong with the server's clock or log: said on every screen until somebody settles it. */
export function ServerTrouble({ kiosk }: { kiosk: Kiosk }) {
  const server = useServer()
  // Every beat says how the server stands: only another answer is drawn.
  const isTrouble = useComputed(() => server !== null && hasTrouble(server)).value
  return server !== null && isTrouble ? <Notices kiosk={kiosk} server={server} /> : null
}
