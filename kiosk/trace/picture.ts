import { picturePdf } from './picturePdf.ts'

/** The drawing of a timeline as a picture file, dark on white whatever the screen is like. */

export type PictureForm = 'png' | 'pdf'

/** Dots of the picture for one of the page. */
const SCALE = 2
const HEAD = 34
const FOOT = 30
const MARGIN = 12
/** How a picture is drawn: a file has no style sheet beside it. */
const KEPT = ['fill', 'stroke', 'font-size', 'font-weight', 'font-family'] as const
const FONTS = [500, 700].map((weight) => ({ weight, path: `/fonts/next-${weight}-core-1.woff2` }))
const FAMILY = 'Atkinson Hyperlegible Next'

/** The shop's letters in the file itself; without the server it is drawn in the device's own. */
async function fontRules(): Promise<string> {
  try {
    const rules = await Promise.all(
      FONTS.map(async ({ weight, path }) => {
        const answer = await fetch(path)
        if (!answer.ok) return ''
        const data = btoa(
          Array.from(new Uint8Array(await answer.arrayBuffer()), (b) =>
            String.fromCharCode(b),
          ).join(''),
        )
        return `@font-face{font-family:"${FAMILY}";font-weight:${weight};src:url(data:font/woff2;base64,${data})}`
      }),
    )
    return rules.join('')
  } catch {
    return ''
  }
}

const NS = 'http://www.w3.org/2000/svg'

/** What is drawn, with its colors and letters written into it, a line above and one below. */
function standalone(drawn: SVGSVGElement, { title, foot }: Said, fonts: string) {
  const [width, height] = [drawn.width.baseVal.value, drawn.height.baseVal.value]
  const place = document.createElement('div')
  place.className = 'trace-box trace-paper'
  const copy = drawn.cloneNode(true) as SVGSVGElement
  const line = (text: string, y: number) => {
    const one = document.createElementNS(NS, 'text')
    one.setAttribute('y', String(y))
    one.textContent = text
    copy.append(one)
  }
  line(title, -12)
  line(foot, height + 20)
  place.append(copy)
  document.body.append(place)
  for (const one of copy.querySelectorAll<SVGElement>('*')) {
    const style = getComputedStyle(one)
    for (const key of KEPT) one.style.setProperty(key, style.getPropertyValue(key))
  }
  // Out of the page first: a rule written into it is none that the page's policy allows.
  copy.remove()
  place.remove()
  const box = { width: width + 2 * MARGIN, height: height + HEAD + FOOT }
  const paper = document.createElementNS(NS, 'rect')
  for (const [key, value] of Object.entries({ x: -MARGIN, y: -HEAD, ...box, fill: '#ffffff' }))
    paper.setAttribute(key, String(value))
  const rules = document.createElementNS(NS, 'style')
  rules.textContent = fonts
  copy.prepend(rules, paper)
  copy.setAttribute('viewBox', `${-MARGIN} ${-HEAD} ${box.width} ${box.height}`)
  copy.setAttribute('width', String(box.width * SCALE))
  copy.setAttribute('height', String(box.height * SCALE))
  return { ...box, text: new XMLSerializer().serializeToString(copy) }
}

type Said = {
  /** Stands above: which job, and from when to when. */
  readonly title: string
  /** What the patterns mean. */
  readonly foot: string
}

/**
 * What is drawn now as a file.
 * @throws where the device cannot draw it: a picture of that size takes more memory than it has
 */
export async function pictureOf(
  drawn: SVGSVGElement,
  form: PictureForm,
  said: Said,
): Promise<Blob> {
  const { width, height, text } = standalone(drawn, said, await fontRules())
  const image = new Image()
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`
  await image.decode()
  const canvas = document.createElement('canvas')
  canvas.width = Math.round(width * SCALE)
  canvas.height = Math.round(height * SCALE)
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height)
  const type = form === 'png' ? 'image/png' : 'image/jpeg'
  const blob = await new Promise<Blob | null>((take) => canvas.toBlob(take, type, 0.92))
  if (blob === null) throw new Error('the picture could not be drawn')
  if (form === 'png') return blob
  const jpeg = new Uint8Array(await blob.arrayBuffer())
  const pdf = picturePdf({ jpeg, widthPx: canvas.width, heightPx: canvas.height })
  return new Blob([pdf], { type: 'application/pdf' })
}
