import { useSignal } from '@preact/signals'
import { useShop, useWords } from '../commands/shop.ts'
import { Sentence } from '../ui/answer.tsx'
import { Choice, worded } from '../ui/parts.tsx'
import { fieldText, unitOf } from '../units/measure.ts'
import { setupIn } from '../words/setupIn.ts'
import { meantBy, shownIn, stepped } from './draft.ts'
import {
  countsIn,
  Doubt,
  Field,
  type Kind,
  nameOf,
  type Offer,
  useWrong,
  type ViewOf,
  Wrong,
  wordOf,
} from './fields.tsx'
import type { Draft, Spec } from './spec.ts'

/** The fields of a form that hold one value: typed, stepped, or chosen by touch. */

export function TypedView(props: ViewOf<Kind<'text'>>) {
  const text = shownIn(props.spec, countsIn(props), undefined)
  return (
    <Field
      name={nameOf(props.path)}
      word={wordOf(props)}
      value={text}
      wrong={useWrong(props, text)}
      onInput={props.onChange}
    />
  )
}

/** A number to type, or to step with gloves on where its description says so. */
export function NumberView(props: ViewOf<Kind<'number'>>) {
  const { form, spec, draft, path, onChange } = props
  const { words, format } = useShop()
  const { units } = format.value
  const { noNumber, proposalStands } = words.value.bench
  const name = nameOf(path)
  const word = wordOf(props)
  const unit = unitOf(spec.measure, units)
  const proposed = form.proposed?.[name]
  const counts = [draft, proposed].find((value) => typeof value === 'number')
  // As it was typed, as long as that is what the form holds: "1." and "1" are one number.
  const typed = useSignal<string | null>(null)
  const put = (text: string | null, to: Draft) => {
    typed.value = text
    onChange(to)
  }
  const isAsTyped = typed.value !== null && meantBy(typed.value, spec.measure, units) === draft
  const text = (isAsTyped ? typed.value : null) ?? shownIn(spec, countsIn(props), units)
  const isStepped = spec.step !== undefined
  const isNoNumber = isStepped && typeof draft === 'string' && draft.trim() !== ''
  const stands = form.isLive && counts !== undefined ? ` ${proposalStands}` : ''
  const said = isNoNumber ? `${noNumber(word, text, fieldText(12.5))}${stands}` : null
  return (
    <Field
      name={name}
      word={word}
      value={text}
      isNumber
      unit={unit.word || words.value.said.unit(spec.unit)}
      wrong={useWrong(props, text) ?? said}
      onInput={(to) => put(to, meantBy(to, spec.measure, units))}
      onLeave={() => {
        // Emptied, it shows what is proposed.
        if (draft === '') typed.value = null
      }}
      onStep={isStepped ? (by) => put(null, stepped(spec, unit, counts ?? null, by)) : null}
    >
      <Doubt name={name} text={text} measure={spec.measure} onMeant={put} />
    </Field>
  )
}

export type OfferProps = ViewOf<Spec> & { readonly offer: Offer }

const OTHER = '+'

/** One of what the page offers, or what is typed instead. */
export function OfferView({ offer, ...props }: OfferProps) {
  const { spec, draft, path, onChange } = props
  const { options, other } = offer
  const isTyping = useSignal(false)
  const text = String(draft)
  const isOther =
    other !== undefined &&
    (isTyping.value || (text !== '' && options.every(({ value }) => value !== text)))
  const wrong = useWrong(props, text)
  return (
    <>
      <Choice
        name={nameOf(path)}
        word={wordOf(props)}
        picked={isOther ? OTHER : String(countsIn(props))}
        options={other ? [...options, { value: OTHER, word: other.word }] : options}
        onPick={(value) => {
          isTyping.value = value === OTHER
          onChange(value === OTHER ? '' : spec.kind === 'number' ? numberOr(value) : value)
        }}
      />
      {isOther ? (
        <Field
          name={nameOf(path)}
          word={other.asks}
          value={text}
          wrong={wrong}
          onInput={onChange}
        />
      ) : (
        wrong !== null && <Sentence>{wrong}</Sentence>
      )}
    </>
  )
}

/** A text of several, chosen by touch; what is not offered is typed among them. */
export function SeveralView({ offer, ...props }: OfferProps) {
  const { draft, path, onChange } = props
  const text = Array.isArray(draft) ? draft.join(', ') : String(draft)
  const all = text.split(',').flatMap((one) => one.trim() || [])
  const wrong = useWrong(props, text)
  return (
    <>
      <Choice
        name={nameOf(path)}
        word={wordOf(props)}
        picked={all}
        options={offer.options}
        onPick={(value) => {
          const others = all.filter((one) => one !== value)
          onChange((others.length < all.length ? others : [...all, value]).join(', '))
        }}
      />
      <Field
        name={nameOf(path)}
        word={offer.other?.asks ?? wordOf(props)}
        value={text}
        wrong={wrong}
        onInput={onChange}
      />
    </>
  )
}

const numberOr = (value: string): Draft => (value === '' ? '' : Number(value))

export function ChoiceView(props: ViewOf<Kind<'choice'>>) {
  const { form, spec, draft, path, optional, onChange } = props
  const { choices } = form.words
  // The base of a percentage is not the stage of that name.
  const say = (value: string) => choices[`${path.at(-1)}.${value}`] ?? choices[value] ?? value
  return (
    <div data-field={nameOf(path)}>
      <Choice
        word={wordOf(props)}
        options={worded(spec.of, say)}
        picked={String(draft)}
        // The same choice once more clears it: an optional field can be left open again.
        onPick={(value) => onChange(optional && value === draft ? '' : value)}
      />
      <Wrong {...props} />
    </div>
  )
}

export function YesNoView(props: ViewOf<Kind<'yesNo'>>) {
  const { yes, no } = setupIn(useWords())
  return (
    <div data-field={nameOf(props.path)}>
      <Choice
        word={wordOf(props)}
        options={worded(['yes', 'no'], (value) => (value === 'yes' ? yes : no))}
        picked={props.draft === '' ? null : props.draft === true ? 'yes' : 'no'}
        onPick={(value) => props.onChange(value === 'yes')}
      />
      <Wrong {...props} />
    </div>
  )
}
