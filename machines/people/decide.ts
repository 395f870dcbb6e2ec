import type { CommandData } from '../commands.ts'
import { type Deciding, type Decision, knownIds, refused, unknown } from '../deciding.ts'
import { presentPerson } from './fold.ts'

/** Adds a person, or says something new of one. */
export function addPerson(d: Deciding<'AddPerson', CommandData<'AddPerson'>>): Decision {
  return { facts: [{ type: 'PersonAdded', data: d.data }] }
}

/** A person who has left keeps the name on what was done. */
export function retirePerson(d: Deciding<'RetirePerson', CommandData<'RetirePerson'>>): Decision {
  const { person } = d.data
  if (!presentPerson(d.state, person)) {
    return refused(unknown('person', person, knownIds(d.state, 'person')))
  }
  return { facts: [{ type: 'PersonRetired', data: { person } }] }
}
