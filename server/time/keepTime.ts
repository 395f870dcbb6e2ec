import { PROTOCOL } from '../../machines/contract.ts'
import type { Writer } from '../handle.ts'
import type { Timekeeper } from './timekeeper.ts'

/** Records every step of the wall clock in the shop's log, and takes the time that a person confirms. */
export function keepTime(
  clock: Timekeeper,
  writer: Writer,
  report: (error: unknown) => void,
): void {
  clock.onJump((jump) => {
    const id = crypto.randomUUID()
    const command = {
      id,
      protocol: PROTOCOL,
      type: 'ReportClockJump',
      source: 'server clock',
      data: jump,
    }
    void writer.handle(command).then(({ status, body }) => {
      if (status !== 200) report(`A step of the clock was not recorded: ${JSON.stringify(body)}`)
    })
  })
  writer.follow((news) => {
    if (news.kind !== 'committed') return
    for (const { type, data } of news.entries)
      if (type === 'ClockConfirmed') clock.confirm(Number(data.toMs) - Number(data.fromMs))
  })
}
