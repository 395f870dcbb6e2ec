import { useSignal } from '@preact/signals'
import type { CommandType } from '../../machines/commands.ts'
import type { Send, Sent } from './send.ts'
import { useShop } from './shop.ts'

/** A command under way or answered: what a button and the line beneath it show. */
export type Sending = {
  readonly busy: boolean
  readonly sent: Sent | null
  /** What was asked, to ask it again with an override. */
  readonly asked: {
    readonly type: CommandType
    readonly data: object
    readonly extra?: Extra
  } | null
}

/** What a command may say beside its data: when it happened, if not now. */
type Extra = NonNullable<Parameters<Send>[2]>

const IDLE: Sending = { busy: false, sent: null, asked: null }

/** Sends one command at a time and keeps its answer to be shown. */
export function useSend() {
  const { send } = useShop()
  const sending = useSignal(IDLE)
  const ask = async (type: CommandType, data: object, extra: Extra = {}): Promise<Sent> => {
    const asked = { type, data, extra }
    sending.value = { busy: true, sent: null, asked }
    const sent = await send(type, data, extra)
    sending.value = { busy: false, sent, asked }
    return sent
  }
  const clear = () => {
    sending.value = IDLE
  }
  return { sending, ask, clear }
}
