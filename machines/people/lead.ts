import { contextThen, type Deciding } from '../deciding.ts'
import { isPresent } from './fold.ts'

/**
 * Whether what only a lead may override may be overridden by who pressed: by a lead, or by anybody
 * while the shop has none.
 */
export function mayLead(d: Deciding): boolean {
  const isLead = (id: string) => {
    const person = contextThen(d, 'person', id)
    return isPresent(person) && person.role === 'lead'
  }
  const { by } = d.command
  return !Object.keys(d.state.things.person).some(isLead) || (!!by && isLead(by))
}
