import path from 'node:path'
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler'

/*
 * The one place that sets type. Plain JavaScript, because the process beside it is started by its file
 * name, where no bundler and no TypeScript loader can be counted on.
 * Templates and fonts are read from lib/documents below the directory the process was started in.
 */

let compiler

function getCompiler() {
  if (!compiler) {
    const workspace = path.join(process.cwd(), 'lib', 'documents')
    compiler = NodeCompiler.create({ workspace, fontArgs: [{ fontPaths: [path.join(workspace, 'fonts')] }] })
  }
  return compiler
}

/** Values reach the template as data in `sys.inputs`, pictures as files in memory; nothing becomes source. */
export function typeset({ template, data, pictures = [] }) {
  const workspace = path.join(process.cwd(), 'lib', 'documents')
  const typst = getCompiler()
  const shadows = pictures.map((picture) => path.join(workspace, picture.name))
  try {
    for (const [index, picture] of pictures.entries())
      typst.mapShadow(shadows[index], Buffer.from(picture.bytes))
    const inputs = { data: JSON.stringify(data) }
    const compiled = typst.compile({ mainFilePath: path.join(workspace, template), inputs })
    if (!compiled.result) throw new Error(`typesetting failed: ${messagesOf(typst, compiled.takeError())}`)
    return new Uint8Array(typst.pdf(compiled.result, { pdfStandard: 'ua-1' }))
  } finally {
    for (const shadow of shadows) typst.unmapShadow(shadow)
    // The memory of earlier sheets is global and would otherwise grow with every animal sold; that of a file of many
    // is hundreds of megabytes, of which nothing serves the next one.
    typst.evictCache((data?.sheets?.length ?? 1) > 5 ? 0 : 5)
  }
}

function messagesOf(typst, error) {
  if (!error) return 'no document'
  return typst
    .fetchDiagnostics(error)
    .map((diagnostic) => diagnostic.message)
    .join('; ')
}
