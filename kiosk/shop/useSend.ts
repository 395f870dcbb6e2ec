import { useSignal } from '@preact/signals'
import type { CommandType } from '../../machines/commands.ts'
import { useShop } from './context.ts'
import type { Sent } from './send.ts'

/** A command under way or answered: what a button and the line beneath it show. */
export type Sending = {
  readonly busy: boolean
  readonly sent: Sent | null
  /** What was asked, to ask it again with an override. */
  readonly asked: { readonly type: CommandType; readonly data: object } | null
}

const IDLE: Sending = { busy: false, sent: null, asked: null }

/** Sends one command at a time and keeps its answer to be shown. */
export function useSend() {
  const { send } = useShop()
  const sending = useSignal(IDLE)
  const ask = async (type: CommandType, data: object): Promise<Sent> => {
    sending.value = { busy: true, sent: null, asked: { type, data } }
    const sent = await send(type, data)
    sending.value = { busy: false, sent, asked: { type, data } }
    return sent
  }
  const clear = () => {
    sending.value = IDLE
  }
  return { sending, ask, clear }
}
