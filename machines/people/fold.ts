import type { Draft } from '../envelope.ts'
import { plainFolder } from '../replay.ts'
import { contextOf, type State } from '../state.ts'
import type { PersonContext, PersonRole, Training } from './context.ts'

function reduce(person: PersonContext, entry: Draft): PersonContext {
  // Of who is in no list of people as well.
  if (entry.type === 'TrainingRecorded') {
    const { kind, doneMs } = entry.data as Pick<Training, 'kind' | 'doneMs'>
    return { ...person, trainings: [...(person.trainings ?? []), { kind, doneMs }] }
  }
  if (entry.type === 'PersonRetired') return { ...person, retiredAt: entry.at }
  const { name, role } = entry.data as { name: string; role: PersonRole }
  return { ...person, name, role, retiredAt: null }
}

export const personFolder = plainFolder<PersonContext>(
  { name: '', role: 'painter', retiredAt: null },
  reduce,
)

export const isPresent = (person: PersonContext | undefined): person is PersonContext =>
  person !== undefined && person.name !== '' && person.retiredAt === null

/** A person who was added and has not left. */
export function presentPerson(state: State, id: string | undefined): PersonContext | undefined {
  const person = contextOf(state, 'person', id)
  return isPresent(person) ? person : undefined
}

/** Whether the shop has people at all: until it does, anybody may do everything. */
export const hasPeople = (state: State): boolean =>
  Object.keys(state.things.person).some((id) => presentPerson(state, id) !== undefined)
