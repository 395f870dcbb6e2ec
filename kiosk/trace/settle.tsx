import { useSignal } from '@preact/signals'
import type { Deviation } from '../../machines/trace/deviations.ts'
import {
  DISPOSITIONS,
  type Disposition,
  SETTLE_REASONS,
} from '../../machines/trace/dispositions.ts'
import { isTaken } from '../commands/send.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'
import { Choice, Fold, worded } from '../ui/parts.tsx'
import * as own from '../words/settle.ts'
import { useOwnWords } from '../words/words.ts'

type Props = {
  readonly job: string
  readonly deviation: Deviation
  readonly now: number
  readonly onSaved: () => void
}

/** A person decides about a deviation, and says why. The last word counts. */
export function Settle(props: Props) {
  return (
    <Fold word={useOwnWords(own).decide} act="settle">
      {() => <SettleForm {...props} />}
    </Fold>
  )
}

function SettleForm({ job, deviation: { entry, code, where }, now, onSaved }: Props) {
  const say = useOwnWords(own)
  const { sending, ask } = useCommands()
  const is = useSignal<Disposition | null>(null)
  const why = useSignal<string | null>(null)
  const save = async () => {
    if (is.value === null || why.value === null) return
    const sent = await ask('SettleDeviation', {
      ...{ job, entry, code, disposition: is.value, reason: why.value },
      ...(where.cup === null ? {} : { cup: where.cup }),
    })
    if (isTaken(sent)) onSaved()
  }
  return (
    <>
      <Choice
        name="disposition"
        word={say.what}
        picked={is.value}
        options={worded(DISPOSITIONS, (one) => say.dispositions[one as Disposition])}
        onPick={(value) => {
          is.value = value as Disposition
        }}
      />
      <Choice
        name="settleReason"
        word={say.why}
        picked={why.value}
        options={worded(SETTLE_REASONS, (one) => say.reasons[one] ?? one)}
        onPick={(value) => {
          why.value = value
        }}
      />
      <Press
        act="SettleDeviation"
        isMain
        isOff={sending.value.busy || is.value === null || why.value === null}
        onPress={save}
      >
        {say.save}
      </Press>
      <Answer sending={sending.value} now={now} />
    </>
  )
}
