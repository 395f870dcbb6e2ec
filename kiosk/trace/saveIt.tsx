import type { Signal } from '@preact/signals'
import type { CommandInput, CommandType } from '../../machines/commands.ts'
import { isTaken } from '../commands/send.ts'
import { useCommands } from '../commands/useCommands.ts'
import { Field } from '../forms/fields.tsx'
import { Answer } from '../ui/answer.tsx'
import { Press } from '../ui/buttons.tsx'

/** What the small forms of Trace and Records share: a line to type in, and the key that sends them. */

type TypedProps = {
  readonly name: string
  readonly word: string
  readonly of: Signal<string>
  readonly isNumber?: boolean
  readonly unit?: string
  readonly wrong?: string | null
}

/** A line to type in that is kept as it is typed. */
export const Typed = ({ of, ...field }: TypedProps) => (
  <Field
    {...field}
    value={of.value}
    onInput={(text) => {
      of.value = text
    }}
  />
)

type SaveProps<T extends CommandType> = {
  readonly type: T
  /** Null while something is missing: then it cannot be pressed. */
  readonly data: CommandInput<T> | null
  readonly word: string
  readonly isMain?: boolean
  readonly now: number
  readonly onTaken: () => void
}

/** The key of a form, and what was answered. */
export function SaveIt<T extends CommandType>(props: SaveProps<T>) {
  const { type, data, word, isMain = false, now, onTaken } = props
  const { sending, give } = useCommands()
  const save = async () => {
    if (data !== null && isTaken(await give(type, data))) onTaken()
  }
  return (
    <>
      <Press act={type} isMain={isMain} isOff={sending.value.busy || data === null} onPress={save}>
        {word}
      </Press>
      <Answer sending={sending.value} now={now} />
    </>
  )
}
