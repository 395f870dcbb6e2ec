import { useShop } from '../commands/shop.ts'
import { Fold } from '../ui/fold.tsx'
import { blank, changed } from './draft.ts'
import {
  ChoiceView,
  type Kind,
  NumberView,
  nameOf,
  Sentence,
  TextView,
  type ViewOf,
  YesNoView,
} from './plainViews.tsx'
import { PointsView } from './pointsView.tsx'
import type { Draft, Field, Spec } from './spec.ts'

/** One form, one field: drawn from their description. */

export function FieldView(props: ViewOf<Spec>) {
  const { spec } = props
  switch (spec.kind) {
    case 'text':
      return <TextView {...props} spec={spec} />
    case 'number':
      return <NumberView {...props} spec={spec} />
    case 'choice':
      return <ChoiceView {...props} spec={spec} />
    case 'yesNo':
      return <YesNoView {...props} spec={spec} />
    case 'group':
      return (
        <fieldset class="group">
          {props.word !== '' && <legend>{props.word}</legend>}
          <GroupView {...props} spec={spec} />
        </fieldset>
      )
    case 'list':
      return <ListView {...props} spec={spec} />
    case 'points':
      return <PointsView {...props} spec={spec} />
  }
}

/** The fields of a group: first the required ones, then the others on a touch. */
export function GroupView({ spec, draft, path, error, onChange }: ViewOf<Kind<'group'>>) {
  const { words } = useShop()
  const given = draft as Readonly<Record<string, Draft>>
  const shown = (fields: [string, Field][]) =>
    fields.map(([key, field]) => (
      <FieldView
        key={key}
        spec={field.spec}
        draft={given[key] ?? blank(field.spec)}
        path={[...path, key]}
        word={words.value.setup.fields[key] ?? key}
        error={error}
        onChange={(to) => onChange(changed(draft, [key], to))}
      />
    ))
  const all = Object.entries(spec.fields)
  const folded = all.filter(([, field]) => field.more)
  const isWrongInside = folded.some(([key]) => error?.field?.startsWith(nameOf([...path, key])))
  return (
    <div class="fields">
      {shown(all.filter(([, field]) => !field.more))}
      {folded.length > 0 && (
        <Fold word={words.value.setup.more} act="more" isOpen={isWrongInside}>
          <div class="fields">{shown(folded)}</div>
        </Fold>
      )}
    </div>
  )
}

function ListView({ spec, draft, path, word, error, onChange }: ViewOf<Kind<'list'>>) {
  const { words } = useShop()
  const items = Array.isArray(draft) ? draft : []
  const { setup } = words.value
  return (
    <fieldset class="group list" data-field={nameOf(path)}>
      <legend>{word}</legend>
      {items.map((item, i) => (
        <div class="item" key={i}>
          <FieldView
            spec={spec.item}
            draft={item}
            path={[...path, i]}
            word={spec.item.kind === 'group' ? '' : word}
            error={error}
            onChange={(to) => onChange(changed(draft, [i], to))}
          />
          <button
            type="button"
            class="remove"
            aria-label={`${setup.remove} ${word} ${i + 1}`}
            onClick={() => onChange(items.filter((_, n) => n !== i))}
          >
            {setup.remove}
          </button>
        </div>
      ))}
      {items.length < spec.most && (
        <button
          type="button"
          data-add={nameOf(path)}
          data-repeat
          onClick={() => onChange([...items, blank(spec.item)])}
        >
          {setup.addItem} {word}
        </button>
      )}
      <Sentence error={error} path={path} />
    </fieldset>
  )
}
