/** Where build.ts puts the style sheet of all screens but the Wall. */
const PATH = '/screens.css'
let asked: Promise<void> | null = null

/**
 * Resolves when the style sheet of all screens but the Wall is here, or cannot be had now: an opened screen
 * is of more use plain than not at all. It stands before the page's own, whose general rules go last.
 */
export function screenStyle(): Promise<void> {
  asked ??= new Promise((done) => {
    const sheet = document.createElement('link')
    sheet.rel = 'stylesheet'
    sheet.href = PATH
    sheet.addEventListener('load', () => done())
    sheet.addEventListener('error', () => {
      sheet.remove()
      asked = null
      done()
    })
    const own = document.head.querySelector('link[rel=stylesheet]')
    if (own) own.before(sheet)
    else document.head.append(sheet)
  })
  return asked
}
