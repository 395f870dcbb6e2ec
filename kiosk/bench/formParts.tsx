import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import type { CupContext } from '../../machines/cup/machine.ts'
import type { State } from '../../machines/state.ts'
import { useShop } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'

/** What the forms of one cup share. */
export type CupFormProps = {
  readonly state: State
  readonly id: string
  readonly cup: CupContext
  readonly now: number
}

export function FormHead({ title }: { title: string }) {
  const { words } = useShop()
  return (
    <div class="act-head">
      <h2>{title}</h2>
      <a class="button" href={hashOf('cups')}>
        {words.value.act.close}
      </a>
    </div>
  )
}

/** Opens on a touch and stays open while the screen is there. */
export function Opens({
  word,
  act,
  children,
}: {
  word: string
  act: string
  children: ComponentChildren
}) {
  const isOpen = useSignal(false)
  return (
    <>
      <button
        type="button"
        data-act={act}
        aria-expanded={isOpen.value}
        onClick={() => {
          isOpen.value = !isOpen.value
        }}
      >
        {word}
      </button>
      {isOpen.value && children}
    </>
  )
}
