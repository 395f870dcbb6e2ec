import { useLayoutEffect, useRef } from 'preact/hooks'
import { type Counting, digitsIn } from '../lanes/chip.ts'
import { type Clock, run } from './inSight.ts'

type DigitsProps = Clock & { readonly counting: Counting; readonly class: string }

/**
 * Digits that run. A tick writes their text, and nothing is drawn again around them.
 * @param props.counting what they count to or from
 */
export function Digits({ counting, now, slow, class: name }: DigitsProps) {
  const box = useRef<HTMLSpanElement>(null)
  // After every drawing: it may have written a text of its own.
  useLayoutEffect(() => {
    const node = box.current?.firstChild
    if (!box.current || !(node instanceof Text)) return
    // To ask the page what it shows would make a string of it each second.
    let shown = node.data
    const look = (nowMs: number) => {
      const text = digitsIn(counting, nowMs)
      if (text === shown) return
      node.data = text
      shown = text
    }
    look(now.peek())
    return run({ now, slow }, { box: box.current, look, by: 'seconds' })
  })
  return (
    <span class={name} ref={box}>
      {digitsIn(counting, now.peek())}
    </span>
  )
}
