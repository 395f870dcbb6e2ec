import { describe, expect, test } from 'vitest'
import { AREAS_ARE, bodyTypes, neighbors } from '../../../machines/trade/panels.ts'
import reference from '../../reference/panels.json'

const bodyOf = (id: string) => {
  const found = bodyTypes.find((body) => body.id === id)
  if (!found) throw new Error(`no body ${id}`)
  return found
}

describe('panels of a body', () => {
  test('car, van and pick-up have panels of their own, each once, each with an area to edit', () => {
    expect(bodyTypes.map((body) => body.id)).toEqual(['car', 'van', 'pick-up'])
    for (const { panels } of bodyTypes) {
      expect(new Set(panels.map((p) => p.id)).size).toBe(panels.length)
      expect(new Set(panels.map((p) => p.name)).size).toBe(panels.length)
      for (const { areaM2 } of panels) expect(areaM2).toBeGreaterThan(0)
    }
  })

  test('the areas are said to be a rule of thumb from memory', () => {
    expect(AREAS_ARE).toContain('from memory')
    expect(AREAS_ARE).toContain('40 %')
    expect(reference.status).toContain('FROM MEMORY')
  })

  test('every panel is next to another, and only panels of that body are named', () => {
    for (const body of bodyTypes) {
      const ids = body.panels.map((panel) => panel.id)
      for (const pair of body.adjacent) for (const id of pair) expect(ids).toContain(id)
      for (const id of ids) expect(neighbors(body, id), `${body.id} ${id}`).not.toEqual([])
    }
  })

  test('left is the mirror of right', () => {
    const mirror = (id: string) =>
      id.startsWith('left-') ? id.replace('left-', 'right-') : id.replace('right-', 'left-')
    for (const body of bodyTypes) {
      for (const { id } of body.panels) {
        const mirrored = neighbors(body, id).map(mirror).toSorted()
        expect(neighbors(body, mirror(id)).toSorted(), `${body.id} ${id}`).toEqual(mirrored)
      }
    }
  })

  test('a van’s damaged rear corner: the side panel is next to door, bumper, roof and sill', () => {
    expect(neighbors(bodyOf('van'), 'left-rear-side')).toEqual([
      'roof',
      'rear-bumper',
      'left-side-door',
      'left-rear-door',
      'left-rocker',
    ])
    expect(neighbors(bodyOf('van'), 'left-rear-door')).toContain('right-rear-door')
  })

  test('a hood is not next to a rear door, nor a panel next to itself', () => {
    const beside = neighbors(bodyOf('car'), 'hood')
    expect(beside).toEqual(['front-bumper', 'left-front-fender', 'right-front-fender'])
  })
})
