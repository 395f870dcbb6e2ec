import { type Signal, useSignal } from '@preact/signals'
import {
  type AsTyped,
  type CommandInput,
  type CommandType,
  checkInput,
  type Misspelt,
} from '../../machines/commands.ts'
import { asOneTouch, type Press, undone } from './presses.ts'
import { isTaken, type Send, type SendExtra, type Sent } from './send.ts'
import { useShop } from './shop.ts'

/** A command under way or answered: what a button and the line beneath it show. */
export type Sending = { readonly busy: boolean; readonly sent: Sent | null }

/**
 * Whether a refusal stands: until something else is pressed, or it has cleared by itself. As long as it does,
 * only its way out is the main key.
 * @param now kiosk time, UTC ms
 */
export const isRefused = ({ sent }: Sending, now: number): boolean =>
  sent?.kind === 'refused' && (sent.refusal.clearsAt ?? Number.POSITIVE_INFINITY) > now

/** Sends the same again with the reason of an override, and what was to follow it. */
export type Again = (reason: string) => Promise<boolean>

export const IDLE: Sending = { busy: false, sent: null }

/**
 * The commands of a page: one at a time, or several of one kind that one touch sends and one undo
 * takes back. The last answer is kept to be shown.
 */
export function useCommands() {
  const { send } = useShop()
  const sending = useSignal(IDLE)
  const last = useSignal<Again | null>(null)
  return commandsBy(send, sending, last)
}

/**
 * The same without a page.
 * @param sending what the page shows
 * @param last how what was sent last is sent again
 */
export function commandsBy(send: Send, sending: Signal<Sending>, last: Signal<Again | null>) {
  const give = async <T extends CommandType>(
    type: T,
    data: CommandInput<T>,
    extra: SendExtra = {},
    rest: readonly CommandInput<T>[] = [],
  ): Promise<Sent> => {
    last.value = (reason) => all(type, [{ ...data, override: { reason } }, ...rest], extra)
    sending.value = { busy: true, sent: null }
    const sent = await send(type, data, extra)
    sending.value = { busy: false, sent }
    return sent
  }
  /** Sends one. A field that its type does not have does not compile, a spread one neither. */
  const ask = <T extends CommandType, const D extends CommandInput<T>>(
    type: T,
    data: D & Misspelt<T, D>,
    extra?: SendExtra,
  ): Promise<Sent> => give(type, data, extra)
  /** Sends what was typed, if it is well formed; else it is answered here, by name of the field. */
  const askTyped = async <T extends CommandType>(
    type: T,
    data: AsTyped<CommandInput<T>>,
  ): Promise<Sent> => {
    const checked = checkInput(type, data)
    if (checked.ok) return await give(type, checked.value)
    const sent: Sent = { kind: 'wrong', error: checked.error }
    sending.value = { busy: false, sent }
    return sent
  }
  /** Sends in order and stops at the first that is not taken. @returns whether all were */
  const all = async <T extends CommandType>(
    type: T,
    datas: readonly CommandInput<T>[],
    extra?: SendExtra,
  ): Promise<boolean> => {
    let isDone = true
    await asOneTouch(type, async () => {
      for (const [i, data] of datas.entries()) {
        isDone = isTaken(await give(type, data, extra, datas.slice(i + 1)))
        if (!isDone) return
      }
    })
    return isDone
  }
  /** What was refused again, with the reason of an override. @returns whether all was taken */
  const again: Again = async (reason) => (await last.value?.(reason)) ?? false
  /** Voids what one touch sent. A refusal is kept to be shown. */
  const undo = (press: Press): Promise<Sent | null> =>
    undone(press, (data) => give('VoidEntry', data))
  const clear = () => {
    sending.value = IDLE
    last.value = null
  }
  return { sending, give, ask, askTyped, all, again, undo, clear }
}

/** The commands of a page, handed to its parts. */
export type Commands = ReturnType<typeof useCommands>
