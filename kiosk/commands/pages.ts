import type { OutboxSources } from './outbox.ts'

const NAME = 'flashbell.outbox'

/**
 * The other pages of this device. Where the browser has locks, one of them sends at a time; without
 * (plain http) two may send the same command, which the server answers as it did first.
 */
export function pagesOf(page: Window): Pick<OutboxSources, 'alone' | 'others'> {
  const { locks } = page.navigator as { locks?: LockManager }
  const channel = new BroadcastChannel(NAME)
  return {
    alone: (work) => (locks ? locks.request(NAME, work) : work()),
    others: {
      tell: () => channel.postMessage(null),
      hear: (changed) => channel.addEventListener('message', changed),
    },
  }
}
