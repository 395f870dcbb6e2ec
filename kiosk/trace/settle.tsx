import { useSignal } from '@preact/signals'
import type { Deviation } from '../../machines/trace/deviations.ts'
import {
  DISPOSITIONS,
  type Disposition,
  SETTLE_REASONS,
} from '../../machines/trace/dispositions.ts'
import { Choice, Fold, worded } from '../ui/parts.tsx'
import * as own from '../words/settle.ts'
import { useOwnWords } from '../words/words.ts'
import { SaveIt } from './saveIt.tsx'

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
  const is = useSignal<Disposition | null>(null)
  const why = useSignal<string | null>(null)
  const data =
    is.value === null || why.value === null
      ? null
      : {
          ...{ job, entry, code, disposition: is.value, reason: why.value },
          ...(where.cup === null ? {} : { cup: where.cup }),
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
      <SaveIt type="SettleDeviation" isMain word={say.save} onTaken={onSaved} {...{ data, now }} />
    </>
  )
}
