import { signal } from '@preact/signals'
import type { CommandType } from '../../machines/commands.ts'

/**
 * Who presses on this kiosk: a person's id, null for nobody in particular. The frame's chooser sets
 * it; send.ts puts it on every command that a person presses.
 */
export const who = signal<string | null>(null)

/** Whether the chooser is open: a touch opens it, and so does a refusal that needs a name. */
export const isChoosing = signal(false)

/** A bell rings by itself, and a display goes dark by itself: nobody pressed it. */
const BY_ITSELF: readonly CommandType[] = [
  'RingBell',
  'EscalateBell',
  'HoldBell',
  'ReportFlood',
  'ReportSleep',
]

export const pressedBy = (type: CommandType): { by?: string } =>
  who.value === null || BY_ITSELF.includes(type) ? {} : { by: who.value }
