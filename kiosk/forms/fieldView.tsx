import { useShop, useWords } from '../commands/shop.ts'
import { Choice, Fold, worded } from '../ui/parts.tsx'
import { setupIn } from '../words/setupIn.ts'
import { blank, changed, groupIn, pointsIn, rowsIn } from './draft.ts'
import { countsIn, Framed, type Kind, nameOf, type ViewOf, Wrong, wordOf } from './fields.tsx'
import {
  ChoiceView,
  NumberView,
  type OfferProps,
  OfferView,
  SeveralView,
  TypedView,
  YesNoView,
} from './oneValue.tsx'
import type { Draft, Field as FieldSpec, Spec } from './spec.ts'

/** Every field of every form: drawn from its description. */

/** One field of a form. */
export function FieldView(props: ViewOf<Spec>) {
  const { form, spec, path } = props
  const offer = form.offers?.[nameOf(path)]
  if (offer?.areSeveral) return <SeveralView {...props} offer={offer} />
  if (offer)
    return spec.kind === 'list' ? (
      <ChosenRows {...props} spec={spec} offer={offer} />
    ) : (
      <OfferView {...props} offer={offer} />
    )
  switch (spec.kind) {
    case 'text':
      return <TypedView {...props} spec={spec} />
    case 'number':
      return <NumberView {...props} spec={spec} />
    case 'choice':
      return <ChoiceView {...props} spec={spec} />
    case 'yesNo':
      return <YesNoView {...props} spec={spec} />
    case 'group':
      return (
        <Framed {...props}>
          <GroupView {...props} spec={spec} />
        </Framed>
      )
    case 'list':
      return <ListView {...props} spec={spec} />
    case 'points':
      return <PointsView {...props} spec={spec} />
    case 'maybe':
      return <MaybeView {...props} spec={spec} />
  }
}

/** Rows of which each is chosen by a touch; what an option does not fill in is asked for. */
function ChosenRows({ offer, ...props }: OfferProps & ViewOf<Kind<'list'>>) {
  const { form, spec, path, onChange } = props
  const { options, fills = [] } = offer
  const { item } = spec
  const rows = rowsIn(countsIn(props))
  const [key] = fills
  const optionOf = (row: Draft) => String(key === undefined ? row : groupIn(row)[key])
  const asked =
    item.kind === 'group'
      ? Object.entries(item.fields).filter(([name]) => !fills.includes(name))
      : []
  return (
    <>
      {options.length > 0 && (
        <Choice
          name={nameOf(path)}
          word={wordOf(props)}
          picked={rows.map(optionOf)}
          options={options}
          onPick={(value) => {
            const others = rows.filter((row) => optionOf(row) !== value)
            const row = key === undefined ? value : changed(blank(item), [key], value)
            onChange(others.length < rows.length ? others : [...rows, row])
          }}
        />
      )}
      <Wrong {...props} />
      {asked.length > 0 &&
        rows.map((row, i) => (
          <GroupView
            key={optionOf(row)}
            form={form}
            spec={{ kind: 'group', fields: Object.fromEntries(asked) }}
            draft={row}
            path={[...path, i]}
            onChange={(to) => onChange(rows.map((other, n) => (n === i ? to : other)))}
          />
        ))}
    </>
  )
}

/** The fields of a group: first what it is of no use without, then the others on a touch. */
export function GroupView({ form, spec, draft, path, onChange }: ViewOf<Kind<'group'>>) {
  const { words } = useShop()
  const given = groupIn(draft)
  const shown = (fields: [string, FieldSpec][]) =>
    fields.map(([key, field]) => (
      <FieldView
        key={key}
        form={form}
        spec={field.spec}
        draft={given[key] ?? blank(field.spec, field.optional)}
        path={[...path, key]}
        optional={field.optional ?? false}
        onChange={(to) => onChange(changed(draft, [key], to))}
      />
    ))
  const all = Object.entries(spec.fields)
  const folded = all.filter(([, field]) => field.more)
  const names = folded.map(([key]) => nameOf([...path, key]))
  const isWrongInside = form.wrong.some(({ field }) =>
    names.some((name) => field === name || field?.startsWith(`${name}.`)),
  )
  return (
    <div class="fields">
      {shown(all.filter(([, field]) => !field.more))}
      {folded.length > 0 && (
        <Fold word={setupIn(words.value).more} act="more" isOpen={isWrongInside}>
          <div class="fields">{shown(folded)}</div>
        </Fold>
      )}
    </div>
  )
}

type RowsProps = ViewOf<Spec> & {
  readonly item: Spec
  readonly rows: readonly Draft[]
  readonly least: number
  readonly most: number
  /** What one more is called. */
  readonly one: string
  readonly onRows: (to: readonly Draft[]) => void
}

/** Rows to add and to remove, between the fewest and the most that are accepted. */
function Rows({ form, path, item, rows, least, most, one, onRows, ...props }: RowsProps) {
  const setup = setupIn(useWords())
  const word = wordOf({ form, path, ...props })
  return (
    <>
      {rows.map((row, i) => {
        const own = {
          form,
          draft: row,
          path: [...path, i],
          onChange: (to: Draft) => onRows(rows.map((other, n) => (n === i ? to : other))),
        }
        return (
          <div class="item" key={i}>
            {item.kind === 'group' ? (
              <>
                <GroupView {...own} spec={item} />
                <Wrong {...own} spec={item} />
              </>
            ) : (
              <FieldView {...own} spec={item} />
            )}
            {rows.length > least && (
              <button
                type="button"
                class="remove"
                aria-label={`${setup.remove} ${word} ${i + 1}`}
                onClick={() => onRows(rows.filter((_, n) => n !== i))}
              >
                −
              </button>
            )}
          </div>
        )
      })}
      {rows.length < most && (
        <button
          type="button"
          data-add={nameOf(path)}
          data-repeat
          onClick={() => onRows([...rows, blank(item)])}
        >
          + {form.words.fields[`${nameOf(path)}.+`] ?? one}
        </button>
      )}
    </>
  )
}

function ListView(props: ViewOf<Kind<'list'>>) {
  const { spec, draft, optional, onChange } = props
  return (
    <Framed {...props}>
      <Rows
        {...props}
        {...spec}
        least={optional ? 0 : spec.least}
        spec={spec}
        rows={rowsIn(draft)}
        one={wordOf({ ...props, optional: false })}
        onRows={onChange}
      />
    </Framed>
  )
}

/** Minutes at temperatures, in a row each; or one of the words that stand for a value. */
function PointsView(props: ViewOf<Kind<'points'>>) {
  const { form, spec, draft, optional, onChange } = props
  const setup = setupIn(useWords())
  const { word, points } = pointsIn(draft)
  const offered = Object.keys(spec.words)
  return (
    <Framed {...props}>
      {offered.length > 0 && (
        <Choice
          picked={word}
          options={worded(offered, (name) => form.words.choices[name] ?? name)}
          onPick={(name) => onChange({ word: word === name ? '' : name, points })}
        />
      )}
      {word === '' && (
        <Rows
          {...props}
          {...spec}
          least={optional || offered.length > 0 ? 0 : 1}
          spec={spec}
          rows={points}
          one={setup.point}
          onRows={(to) => onChange({ word: '', points: to })}
        />
      )}
    </Framed>
  )
}

function MaybeView(props: ViewOf<Kind<'maybe'>>) {
  const { spec, draft, onChange } = props
  const { leaveOut, give } = setupIn(useWords())
  return (
    <div class="maybe">
      <Choice
        word={wordOf({ ...props, optional: false })}
        picked={draft === '' ? 'no' : 'yes'}
        options={worded(['yes', 'no'], (value) => (value === 'yes' ? give : leaveOut))}
        onPick={(value) => onChange(value === 'no' ? '' : blank(spec.of))}
      />
      {draft !== '' && spec.of.kind === 'group' && <GroupView {...props} spec={spec.of} />}
    </div>
  )
}
