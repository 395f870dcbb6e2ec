import { Choice, worded } from '../ui/parts.tsx'
import * as own from '../words/colour.ts'
import { useOwnWords } from '../words/words.ts'

type Props = { readonly isOff: boolean; readonly onPick: (isOff: boolean) => void }

/** Whether a new part is painted before it is hung: its edges are cut in first then. */
export function WhereHung({ isOff, onPick }: Props) {
  const say = useOwnWords(own)
  return (
    <Choice
      name="hung"
      word={say.off}
      options={worded(['on', 'off'], (one) => say.offs[one] ?? one)}
      picked={isOff ? 'off' : 'on'}
      onPick={(one) => onPick(one === 'off')}
    />
  )
}
