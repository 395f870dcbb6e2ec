/** What may stand above any screen and seldom does: fetched once the Wall stands. */
/** A cup, panel or job that was named, and that nobody recorded. */
export const notKnown = {
  cup: (id: string) => `Cup ${id} is not known.`,
  panel: (id: string) => `Panel ${id} is not known.`,
  job: (id: string) => `Job ${id} is not known.`,
  waits: (n: number) => (n === 1 ? '1 record waits for it.' : `${n} records wait for it.`),
  mix: 'MIX',
  voidHold: 'HOLD TO VOID WHAT WAITS',
}

/** What the server says of its clock and its log, where something is wrong with them. */
export const server = {
  backup: 'Backup',
  clockTitle: 'Clock not confirmed',
  counts: (time: string) => `The shop counts on from ${time}.`,
  shows: (time: string) => `That computer shows ${time}.`,
  itIs: (time: string) => `IT IS ${time}`,
  other: 'OTHER TIME',
  type: 'Date and time now',
  confirm: 'CONFIRM',
  steps: 'Steps of the clock',
  stepJumped: (at: string, from: string, to: string) => `${at}: went from ${from} to ${to}`,
  stepConfirmed: (at: string, to: string) => `${at}: confirmed as ${to}`,
  gone: (n: number, from: string, to: string) =>
    `The server's log lacks entries that this kiosk knows: ${n === 1 ? '1 entry' : `${n} entries`} from ${from} to ${to}.`,
  save: 'SAVE THEM',
  dismiss: 'DISMISS',
  dismissUnsaved: 'DISMISS WITHOUT SAVING',
  replaced: (head: number) =>
    `The server's log was restored or replaced: it has ${head === 1 ? '1 entry' : `${head} entries`} now.`,
  restore:
    'Clocks and the mask line do not know what was sprayed since: keep the mask on until the zone is clear. Restore the newest backup, or go on with what is there.',
}
