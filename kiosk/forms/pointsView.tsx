import { useShop } from '../commands/shop.ts'
import { Choice, worded } from '../ui/choice.tsx'
import { changed } from './draft.ts'
import { NumberView, nameOf, Sentence, type ViewOf } from './plainViews.tsx'
import { type Draft, POINT, POINTS_MOST, type Spec } from './spec.ts'

type Points = Extract<Spec, { kind: 'points' }>
type PointKey = keyof typeof POINT & ('atC' | 'minutes')
const KEYS: readonly PointKey[] = ['minutes', 'atC']

/** Minutes at temperatures, in a row each; or one of the words that stand for a value. */
export function PointsView({ spec, draft, path, word, error, onChange }: ViewOf<Points>) {
  const { words } = useShop()
  const { setup } = words.value
  const { word: picked = '', points = [] } = draft as {
    word?: string
    points?: readonly Draft[]
  }
  const offered = Object.keys(spec.words)
  const set = (to: readonly Draft[]) => onChange({ word: '', points: to })
  return (
    <fieldset class="group points" data-field={nameOf(path)}>
      <legend>{word}</legend>
      {offered.length > 0 && (
        <Choice
          picked={picked}
          options={worded(offered, (name) => setup.choices[name] ?? name)}
          onPick={(name) => onChange({ word: picked === name ? '' : name, points })}
        />
      )}
      {picked === '' &&
        points.map((point, i) => (
          <div class="item" key={i}>
            {KEYS.map((key) => (
              <PointNumber
                key={key}
                name={key}
                point={point}
                path={[...path, i, key]}
                error={error}
                onChange={(to) => set(points.map((p, n) => (n === i ? changed(p, [key], to) : p)))}
              />
            ))}
            <button
              type="button"
              class="remove"
              aria-label={`${setup.remove} ${word} ${i + 1}`}
              onClick={() => set(points.filter((_, n) => n !== i))}
            >
              {setup.remove}
            </button>
          </div>
        ))}
      {picked === '' && points.length < POINTS_MOST && (
        <button
          type="button"
          data-add={nameOf(path)}
          data-repeat
          onClick={() => set([...points, { minutes: '', atC: '' }])}
        >
          {setup.addPoint}
        </button>
      )}
      <Sentence error={error} path={path} />
    </fieldset>
  )
}

type PointProps = Pick<ViewOf<Spec>, 'path' | 'error' | 'onChange'> & {
  readonly name: PointKey
  readonly point: Draft
}

function PointNumber({ name, point, path, error, onChange }: PointProps) {
  const { words } = useShop()
  const spec = POINT[name]?.spec
  if (spec?.kind !== 'number') return null
  const given = (point as Readonly<Record<string, Draft>>)[name] ?? ''
  return (
    <NumberView
      spec={spec}
      draft={given}
      path={path}
      word={words.value.setup.fields[name] ?? name}
      error={error}
      onChange={onChange}
    />
  )
}
