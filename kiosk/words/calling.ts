/** How a bell calls: since when, how far it reached, and why it is quiet. */
export const en = {
  due: (time: string, length: string) => `due ${time}, ${length} ago`,
  held: (left: string) => `Rang again and again: quiet for ${left}`,
  reach: { zone: 'the whole zone', lead: 'the lead', shop: 'the whole shop' } as Record<
    string,
    string
  >,
  notShown: 'shop closed: in the log only',
}
