import type { CommandType } from '../../machines/commands.ts'
import { asOneTouch } from './presses.ts'
import { isTaken, type Sent } from './send.ts'
import { useSend } from './useSend.ts'

/** The commands of a page: one, or several of one kind that one touch sends and one undo takes back. */
export function useCommands() {
  const { sending, ask } = useSend()
  /** Sends in order and stops at the first that is not taken. @returns whether all were */
  const all = async (type: CommandType, datas: readonly object[]): Promise<boolean> => {
    let isDone = true
    await asOneTouch(type, async () => {
      for (const data of datas) {
        isDone = isTaken(await ask(type, data))
        if (!isDone) return
      }
    })
    return isDone
  }
  /** The same command again, with the reason of an override. */
  const again = async (reason: string): Promise<Sent | null> => {
    const { asked } = sending.value
    return asked
      ? await ask(asked.type, { ...asked.data, override: { reason } }, asked.extra)
      : null
  }
  return { sending, ask, all, again }
}

/** The commands of a page, handed to its parts. */
export type Commands = ReturnType<typeof useCommands>
