import type { PassAct } from './pass.ts'

type ButtonProps = {
  readonly act: PassAct
  readonly isMain: boolean
  readonly isBusy: boolean
  readonly onPress: (act: PassAct) => void
}

/** One key of a lane. */
export const ActButton = ({ act, isMain, isBusy, onPress }: ButtonProps) => (
  <button
    type="button"
    class={isMain ? 'main' : ''}
    data-act={act.type}
    data-key={act.key}
    disabled={isBusy}
    onClick={() => onPress(act)}
  >
    <span>
      {act.label}
      {act.small && <small>{act.small}</small>}
    </span>
  </button>
)
