import type { JobExport } from '../../machines/contract/jobExport.ts'
import { sha256 } from '../log/canonical.ts'

/** The program of the page, as the kiosk's build made it. */
export type PageParts = { readonly script: string; readonly style: string }

/** What the page says until its program has run: a program that was changed never runs. */
const NOT_CHECKED =
  'NOT CHECKED: the program in this file did not run. The file was changed, or this browser runs no scripts. / SIN COMPROBAR: el programa de este archivo no se ejecutó. El archivo fue alterado, o este navegador no ejecuta programas.'

const hashOf = (text: string): string =>
  `'sha256-${new Bun.CryptoHasher('sha256').update(text).digest('base64')}'`

/** Inside a script element nothing may look like its end, nor like a comment of HTML. */
const inScript = (text: string): string =>
  text.replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--')

/**
 * One file that needs nothing else: the job, and the page that checks it and shows it. The page allows its own
 * program and style by their digests, so that either of them changed is refused by the browser; what it
 * carries is sealed by a digest beside it and by the log's own chain.
 */
export function exportPage(job: JobExport, { script, style }: PageParts): string {
  const program = inScript(script)
  // "<" as an escape: then no text of a shop can end the element.
  const data = JSON.stringify(job).replaceAll('<', '\\u003c')
  const policy = `default-src 'none'; img-src data:; script-src ${hashOf(program)}; style-src ${hashOf(style)}`
  const language = job.settings.language === 'es' ? 'es' : 'en'
  return `<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${job.job} – Flashbell</title>
<style>${style}</style>
</head>
<body>
<main id="page">${NOT_CHECKED}</main>
<script type="application/json" id="job" data-sha256="${sha256(data)}">${data}</script>
<script>${program}</script>
</body>
</html>
`
}
