/**
 * Printing by the browser's own dialog. What the dialog did nobody is told: whether paper came out
 * only the person beside the printer can say.
 */

/** Some browsers never say that their dialog was closed. */
const UNSAID_MS = 1_000

/**
 * Prints one label at its true size (bench.css gives the page its stock's) and nothing else of the page.
 * @param src the label as a picture
 * @returns once the dialog is closed: true; false where the picture could not be loaded, then no
 *   dialog was opened
 */
export async function printLabelAt(src: string): Promise<boolean> {
  const picture = new Image()
  picture.className = 'print-label'
  picture.alt = ''
  picture.src = src
  document.body.append(picture)
  document.body.toggleAttribute('data-printing', true)
  try {
    await picture.decode()
    await closed(() => window.print())
    return true
  } catch {
    return false
  } finally {
    picture.remove()
    document.body.removeAttribute('data-printing')
  }
}

function closed(open: () => void): Promise<void> {
  return new Promise((resolve) => {
    const done = () => {
      removeEventListener('afterprint', done)
      resolve()
    }
    addEventListener('afterprint', done)
    open()
    setTimeout(done, UNSAID_MS)
  })
}
