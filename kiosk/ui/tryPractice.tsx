import { useShop } from '../commands/shop.ts'
import { practiceOn } from '../device/practiceShop.ts'
import { Press } from './buttons.tsx'
import { Said, useAsk } from './practice.tsx'

/** One touch from an empty Wall to the practice shop. */
export function TryPractice() {
  const { words } = useShop()
  const { asked, ask } = useAsk('/api/practice', ({ url }) => {
    if (url !== undefined) location.assign(url)
  })
  if (practiceOn(document)) return null
  return (
    <div class="try-practice">
      <Press act="practice" isOff={asked === 'asking'} onPress={ask}>
        {words.value.practice.offer}
      </Press>
      <p class="minor">{words.value.practice.offerHint}</p>
      <Said asked={asked} />
    </div>
  )
}
