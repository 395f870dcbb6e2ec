import type { CommandData } from '../commands.ts'
import { contextThen, type Deciding, type Decision } from '../deciding.ts'
import { SLEPT_EVERY_MS } from './context.ts'
import { DEVICES, devicesOf } from './fold.ts'
import { levelVerdict } from './level.ts'

/** At the start of a shift somebody listens to each pattern where the work is done. */
export function testSound(d: Deciding<'TestSound', CommandData<'TestSound'>>): Decision {
  return { facts: [{ type: 'SoundTested', data: d.data }] }
}

/** A level that does not pass is recorded too: it says that the bell is not heard there. */
export function commissionLevel(
  d: Deciding<'CommissionLevel', CommandData<'CommissionLevel'>>,
): Decision {
  const { passes } = levelVerdict(d.data)
  return { facts: [{ type: 'LevelCommissioned', data: { ...d.data, passed: passes } }] }
}

/** The display of a kiosk may go dark while a timer runs. */
export function reportSleep(d: Deciding<'ReportSleep', CommandData<'ReportSleep'>>): Decision {
  const device = d.command.device ?? null
  const isSaid = devicesOf(d.state).slept.some(
    (one) => one.device === device && Math.abs(one.at - d.at) < SLEPT_EVERY_MS,
  )
  return { facts: isSaid ? [] : [{ type: 'ScreenSlept', data: d.data }] }
}

/** A flood begins and ends once for each kiosk; a repeated report adds nothing to the log. */
export function reportFlood(d: Deciding<'ReportFlood', CommandData<'ReportFlood'>>): Decision {
  const device = d.command.device ?? null
  const floods = contextThen(d, DEVICES.kind, DEVICES.id)?.floods ?? []
  const wasOn = floods.some((one) => one.device === device && one.isOn)
  return { facts: wasOn === d.data.isOn ? [] : [{ type: 'BellFlood', data: d.data }] }
}

/** What the clock of the server's computer did is recorded, followed or not. */
export function reportClockJump(
  d: Deciding<'ReportClockJump', CommandData<'ReportClockJump'>>,
): Decision {
  return { facts: [{ type: 'ClockJumped', data: d.data }] }
}

/**
 * A person has looked at a clock. An old confirmation means nothing: the server has been restarted since,
 * or somebody else has confirmed the time.
 */
export function confirmClock(d: Deciding<'ConfirmClock', CommandData<'ConfirmClock'>>): Decision {
  if (!d.isLive) return { facts: [] }
  const data = { fromMs: d.now, toMs: d.data.nowMs + (d.now - d.at) }
  return { facts: [{ type: 'ClockConfirmed', data }] }
}
