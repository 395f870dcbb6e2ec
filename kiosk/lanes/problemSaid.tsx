import type { RouteProblem } from '../../machines/plan/routeProblems.ts'
import type { Sheet, Stage } from '../../machines/sheet/schema.ts'
import { contextOf, type State } from '../../machines/state.ts'
import { useWords } from '../commands/shop.ts'
import { hashOf } from '../ui/route.ts'
import * as own from '../words/wayOn.ts'
import { useOwnWords } from '../words/words.ts'

type Props = {
  readonly problem: RouteProblem
  readonly stage: Stage
  readonly state: State
  /** Those in use in the shop. */
  readonly sheets: readonly Sheet[]
}

const sheetPath = (id: string, ...rest: readonly string[]) => hashOf('setup', 'sheets', id, ...rest)

/** A step that no work can end: what is wrong with it, and the sheet that could open a way. */
export function ProblemSaid({ problem, stage, state, sheets }: Props) {
  const say = useOwnWords(own)
  const words = useWords()
  const step = problem.at + 1
  switch (problem.code) {
    case 'noCure':
    case 'never': {
      const { name, sheet } = problem.sheet
      const text =
        problem.code === 'noCure'
          ? say.noCure(step, name)
          : say.never(step, name, problem.under.name)
      return <Said text={text} to={sheetPath(sheet, 'edit')} word={say.toSheet(name)} />
    }
    case 'noSheet': {
      const old = contextOf(state, 'sheet', problem.sheet)?.versions.at(-1)?.sheet
      if (old)
        return (
          <Said
            text={say.retired(step, old.name)}
            to={sheetPath(old.sheet)}
            word={say.toSheet(old.name)}
          />
        )
      const text = say.noSheet(step, words.stage[stage])
      return sheets.some((one) => one.stage === stage) ? (
        <Said text={text} />
      ) : (
        <Said text={text} to={sheetPath('new')} word={say.newSheet} />
      )
    }
  }
}

type SaidProps = { readonly text: string; readonly to?: string; readonly word?: string }

const Said = ({ text, to, word }: SaidProps) => (
  <>
    <p class="sentence" role="alert">
      {text}
    </p>
    {to !== undefined && (
      <a class="button" href={to}>
        {word}
      </a>
    )}
  </>
)
