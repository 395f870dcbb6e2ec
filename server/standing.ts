import type { ServerStanding } from '../machines/contract.ts'
import type { RouteDeps } from './http.ts'

export type StandingDeps = Pick<RouteDeps, 'clock' | 'log' | 'kiosks' | 'backups' | 'printing'>

/** How the server stands, with its time: sent with everything that carries one. */
export function standingOf({
  clock,
  log,
  kiosks,
  backups,
  printing,
}: StandingDeps): ServerStanding {
  const serverTime = clock.now()
  const prints = printing?.standing()
  return {
    serverTime,
    clock: clock.standing(),
    loss: log.loss(),
    disk: log.disk(),
    kiosks: kiosks.open(serverTime),
    backup: backups?.late() ?? null,
    ...(prints ? { printing: prints } : {}),
  }
}
