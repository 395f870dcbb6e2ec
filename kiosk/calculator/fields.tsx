import type { Signal } from '@preact/signals'
import { Choice, worded } from '../ui/choice.tsx'
import {
  maybeKey,
  type Node,
  rowsKey,
  rowsOf,
  stands,
  type Typed,
  under,
  withoutRow,
} from './form.ts'
import { nameOf, type UnitFor } from './input.ts'
import { useCalculatorWords } from './words.ts'

/** What every field of a form needs: what was typed, the units, and what is wrong where. */
export type FormContext = {
  readonly typed: Signal<Typed>
  readonly unitFor: UnitFor
  readonly wrong: { readonly path: string; readonly sentence: string } | null
}
type Props = { readonly form: FormContext; readonly node: Node; readonly path: string }

const put = (form: FormContext, key: string, value: string) => {
  form.typed.value = { ...form.typed.value, [key]: value }
}
const idOf = (path: string) => `calc-${path}`

export function Fields({ form, node, path }: Props) {
  switch (node.kind) {
    case 'number':
    case 'text':
      return <TypedField form={form} node={node} path={path} />
    case 'choice':
      return <Picked form={form} node={node} path={path} />
    case 'group':
      return (
        <div class="calc-group">
          {node.fields.map(({ key, node: of }) => (
            <Fields key={key} form={form} node={of} path={under(path, key)} />
          ))}
        </div>
      )
    case 'list':
      return <List form={form} node={node} path={path} />
    case 'tuple':
      return (
        <fieldset class="calc-list">
          <Legend form={form} path={path} />
          <div class="calc-group">
            {node.items.map((item, i) => (
              <Fields key={under(path, i)} form={form} node={item} path={under(path, i)} />
            ))}
          </div>
        </fieldset>
      )
    case 'maybe':
      return <Maybe form={form} node={node} path={path} />
  }
}

/** The path's own words, or those of its name: "panel.0" is Panel L*. */
function useLabel(path: string): string {
  const { fields, row } = useCalculatorWords()
  const own = fields[path]
  if (own !== undefined) return own
  // A row of a list of plain numbers: the list's own words are above it.
  const at = /\.(\d+)$/.exec(path)?.[1]
  return at === undefined ? (fields[nameOf(path)] ?? path) : row(Number(at) + 1)
}

function Wrong({ form, path }: { form: FormContext; path: string }) {
  if (form.wrong?.path !== path) return null
  return (
    <p class="sentence" role="alert" id={`${idOf(path)}-wrong`}>
      {form.wrong.sentence}
    </p>
  )
}

function Legend({ form, path }: { form: FormContext; path: string }) {
  const label = useLabel(path)
  return (
    <legend>
      {label}
      <Wrong form={form} path={path} />
    </legend>
  )
}

function TypedField({
  form,
  node,
  path,
}: Props & { node: Extract<Node, { kind: 'number' | 'text' }> }) {
  const { optional } = useCalculatorWords()
  const isNumber = node.kind === 'number'
  const unit = isNumber ? form.unitFor(nameOf(path)).word : ''
  const isWrong = form.wrong?.path === path
  return (
    <div class="calc-field" data-field={path}>
      <label for={idOf(path)} class="minor">
        {useLabel(path)}
        {node.isOptional && ` (${optional})`}
      </label>
      <span class="with-unit">
        <input
          type="text"
          id={idOf(path)}
          name={path}
          autocomplete="off"
          inputmode={isNumber ? 'decimal' : 'text'}
          aria-invalid={isWrong}
          aria-describedby={isWrong ? `${idOf(path)}-wrong` : undefined}
          value={form.typed.value[path] ?? ''}
          onInput={(e) => put(form, path, e.currentTarget.value)}
        />
        {unit !== '' && <span>{unit}</span>}
      </span>
      <Wrong form={form} path={path} />
    </div>
  )
}

function Picked({ form, node, path }: Props & { node: Extract<Node, { kind: 'choice' }> }) {
  const { options, leaveOut } = useCalculatorWords()
  const label = useLabel(path)
  const picked = form.typed.value[path] ?? (node.isOptional ? '' : node.options[0])
  const all = node.isOptional ? ['', ...node.options] : node.options
  return (
    <div data-field={path}>
      <Choice
        word={label}
        picked={picked ?? null}
        options={worded(all, (value) => (value === '' ? leaveOut : (options[value] ?? value)))}
        onPick={(value) => {
          const { [path]: _, ...others } = form.typed.value
          form.typed.value = value === '' ? others : { ...others, [path]: value }
        }}
      />
      <Wrong form={form} path={path} />
    </div>
  )
}

function List({ form, node, path }: Props & { node: Extract<Node, { kind: 'list' }> }) {
  const calculator = useCalculatorWords()
  const rows = rowsOf(node, path, form.typed.value)
  return (
    <fieldset class="calc-list" data-field={path}>
      <Legend form={form} path={path} />
      {Array.from({ length: rows }, (_, i) => (
        <div class="calc-row" key={under(path, i)}>
          {node.item.kind === 'group' && <span class="digits minor">{i + 1}</span>}
          <Fields form={form} node={node.item} path={under(path, i)} />
          {rows > node.least && (
            <button
              type="button"
              aria-label={`${calculator.remove} ${calculator.row(i + 1)}`}
              onClick={() => {
                form.typed.value = withoutRow(form.typed.value, path, i, rows)
              }}
            >
              {calculator.remove}
            </button>
          )}
        </div>
      ))}
      {rows < node.most && (
        <button
          type="button"
          data-add={path}
          data-repeat
          onClick={() => put(form, rowsKey(path), String(rows + 1))}
        >
          + {calculator.add}
        </button>
      )}
    </fieldset>
  )
}

function Maybe({ form, node, path }: Props & { node: Extract<Node, { kind: 'maybe' }> }) {
  const { give, leaveOut } = useCalculatorWords()
  const isGiven = stands(node, path, form.typed.value)
  const label = useLabel(path)
  return (
    <div class="calc-maybe">
      <Choice
        word={label}
        picked={isGiven ? 'yes' : 'no'}
        options={worded(['yes', 'no'], (value) => (value === 'yes' ? give : leaveOut))}
        onPick={(value) => put(form, maybeKey(path), value)}
      />
      {isGiven && <Fields form={form} node={node.node} path={path} />}
    </div>
  )
}
