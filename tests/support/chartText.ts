import type { AnyStateMachine, AnyStateNode, AnyTransitionDefinition } from 'xstate'

/** A machine drawn in text: its states, and for each what it takes and where that leads. */

type Guard = string | { readonly type: string; readonly params?: unknown }

/** The one thing that a guard is asked about, where its place in the chart names it: a stage. */
function askedOf(guard: unknown): string | null {
  const params = typeof guard === 'object' && guard !== null && 'params' in guard && guard.params
  if (typeof params !== 'object' || params === null) return null
  const [value] = Object.values(params)
  return typeof value === 'string' ? value : null
}

const guardText = (guard: unknown): string => {
  if (guard === undefined) return ''
  const { type } = typeof guard === 'string' ? { type: guard } : (guard as Exclude<Guard, string>)
  return askedOf(guard) === null ? `[${type}] ` : `[${type} {stage}] `
}

/** A target as its source sees it: a sibling by its name, any other by its path in its region. */
function targetText({ source, target, guard, reenter, actions }: AnyTransitionDefinition): string {
  const to = target?.[0]
  if (!to) return actions.length === 0 ? 'not taken' : 'stays'
  if (to === source && !reenter) return 'stays'
  const isNear = to.parent === source.parent
  const path = isNear
    ? to.key
    : to.path.slice(to.machine.root.type === 'parallel' ? 1 : 0).join('.')
  const stage = askedOf(guard)
  return stage === null ? path : path.replace(stage, '{stage}')
}

/** "after firstReach" for what comes by itself in a machine that runs live. */
const factText = (type: string): string =>
  type.startsWith('xstate.after.') ? `after ${type.split('.')[2]}` : type

/** What a state takes, and where each leads. */
function arrowsOf(node: AnyStateNode): Map<string, string> {
  const arrows = new Map<string, string>()
  const textOf = (all: readonly AnyTransitionDefinition[]) =>
    [...new Set(all.map((t) => `${guardText(t.guard)}${targetText(t)}`))].join(', else ')
  for (const [type, all] of node.transitions) arrows.set(factText(type), textOf(all))
  if ((node.always ?? []).length > 0) arrows.set('at once', textOf(node.always ?? []))
  return arrows
}

/** Facts that lead alike share a line. */
function linesOf(arrows: ReadonlyMap<string, string>): string[] {
  const facts = Map.groupBy([...arrows], ([, to]) => to)
  return [...facts].map(([to, all]) => `${all.map(([fact]) => fact).join(', ')} -> ${to}`)
}

type Drawn = { readonly node: AnyStateNode; readonly arrows: ReadonlyMap<string, string> }
/** With this many arrows in common a state is drawn by its other arrows. */
const ALIKE = 6

/** A state's own lines; where an earlier one takes nearly the same, only the difference. */
function ownLines(node: AnyStateNode, before: readonly Drawn[]): string[] {
  const arrows = arrowsOf(node)
  const shared = ({ arrows: other }: Drawn) =>
    [...arrows].filter(([fact, to]) => other.get(fact) === to).length
  const like = before.toSorted((a, b) => shared(b) - shared(a))[0]
  if (!like || shared(like) < ALIKE) return linesOf(arrows)
  const other = [...arrows].filter(([fact, to]) => like.arrows.get(fact) !== to)
  const lacking = [...like.arrows.keys()].filter((fact) => !arrows.has(fact))
  const without = lacking.length === 0 ? '' : `, without ${lacking.join(', ')}`
  const { key, path, parent } = like.node
  const name = parent === node.parent ? key : path.slice(1).join('.')
  return [`as ${name}${without}${other.length === 0 ? '' : '; but'}`, ...linesOf(new Map(other))]
}

const WIDTH = 118

/** Long lines go on below, further in. */
function wrapped(line: string, indent: string): string[] {
  const rows: string[] = []
  let row = indent
  for (const word of line.split(' ')) {
    if (row.trim() !== '' && row.length + word.length > WIDTH) {
      rows.push(row.trimEnd())
      row = `${indent}    `
    }
    row += `${word} `
  }
  return [...rows, row.trimEnd()]
}

const children = (node: AnyStateNode): AnyStateNode[] => Object.values(node.states)

function bodyOf(node: AnyStateNode, indent: string, before: Drawn[]): string[] {
  const own = ownLines(node, before).flatMap((line) => wrapped(line, indent))
  before.push({ node, arrows: arrowsOf(node) })
  // States that take the same and lead to the same are drawn once.
  const alike = Map.groupBy(children(node), (child) => JSON.stringify(bodyOf(child, '', [])))
  const inner = [...alike.values()].flatMap((all) => {
    const names = all.map(({ key }) => (node.config.initial === key ? `(${key})` : key))
    const first = all[0]
    return first
      ? [...wrapped(names.join(', '), indent), ...bodyOf(first, `${indent}    `, before)]
      : []
  })
  return [...own, ...inner]
}

/** One chart; the state in which each part begins stands in brackets. */
export const chartText = (machine: AnyStateMachine): string =>
  [machine.id, ...bodyOf(machine.root, '  ', [])].join('\n')
