import { useMemo } from 'preact/hooks'
import type { State } from '../../machines/state.ts'
import { allAwaited, isLongAt } from '../../machines/waiting.ts'
import { type Kiosk, slowNow } from '../device/runtime.ts'
import { atMoments } from '../lanes/moment.ts'
import { later } from '../ui/screen.tsx'
import { serverNotices } from './serverTrouble.tsx'

/** Fetched with what else may stand above a screen, once the Wall stands. */
const OneNotKnown = later(async () => (await serverNotices()).OneNotKnown)

/** What was named ten minutes ago and nobody has recorded: said on every screen until somebody does. */
export function NotKnown({ kiosk, state }: { kiosk: Kiosk; state: State }) {
  const slow = slowNow(kiosk)
  const all = useMemo(() => {
    const awaited = allAwaited(state)
    return atMoments(slow, (at) => awaited.filter((one) => at.isPast(isLongAt(one))))
  }, [slow, state]).value
  return (
    <>
      {all.map((one) => (
        <OneNotKnown key={`${one.kind} ${one.id}`} of={one} now={slow.value} />
      ))}
    </>
  )
}
