import { setPriority } from 'node:os'

/**
 * Lets the shop's own work go before what another process does.
 * @param nice how far to step back: 19 is only when nothing else wants the processor
 */
export function lower({ pid }: { readonly pid: number }, nice: number): void {
  try {
    setPriority(pid, nice)
  } catch {
    // It has ended already, or this system gives no priorities: then it runs like any other.
  }
}
