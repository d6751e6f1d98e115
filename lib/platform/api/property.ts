import type { ApiDocument } from '@/lib/platform/api/document'

/** One field of a body or an answer, laid flat: `depth` says how far inside it stands. */
export type Property = {
  name: string
  /** Dotted, unique in its list. */
  path: string
  type: string
  isRequired: boolean
  description: string
  depth: number
}

type Node = Record<string, unknown>
type Place = { path: string; depth: number }
const DEEPEST = 4

/** The fields of whatever holds JSON content in the document, parents before what they hold. */
export function listProperties(document: ApiDocument, holder: unknown): Property[] {
  const content = isNode(holder) && isNode(holder.content) ? Object.values(holder.content)[0] : undefined
  return isNode(content) ? listFields(document, content.schema, { path: '', depth: 0 }) : []
}

function listFields(document: ApiDocument, schema: unknown, place: Place): Property[] {
  const node = follow(document, schema)
  if (!node || place.depth > DEEPEST) return []
  if (isNode(node.items)) return listFields(document, node.items, place)
  const branches = listBranches(document, node)
  if (branches.length > 0)
    return dropRepeated(branches.flatMap((branch) => listFields(document, branch, place)))
  if (!isNode(node.properties)) return []
  const required = Array.isArray(node.required) ? node.required : []
  return Object.entries(node.properties).flatMap(([name, child]) => {
    const field = follow(document, child) ?? {}
    const path = place.path === '' ? name : `${place.path}.${name}`
    const property: Property = {
      name,
      path,
      type: nameType(document, field),
      isRequired: required.includes(name),
      description: typeof field.description === 'string' ? field.description : '',
      depth: place.depth,
    }
    return [property, ...listFields(document, field, { path, depth: place.depth + 1 })]
  })
}

/** Shapes of one value share most of their fields; each is said once. */
function dropRepeated(properties: Property[]): Property[] {
  return properties.filter(
    (property, position) => properties.findIndex((other) => other.path === property.path) === position,
  )
}

/** What a value may be one of, without "or nothing". */
function listBranches(document: ApiDocument, node: Node): Node[] {
  const branches = node.anyOf ?? node.oneOf
  if (!Array.isArray(branches)) return []
  return branches.flatMap((branch) => {
    const found = follow(document, branch)
    return found && found.type !== 'null' ? [found] : []
  })
}

function nameType(document: ApiDocument, node: Node): string {
  const branches = node.anyOf ?? node.oneOf
  if (Array.isArray(branches))
    return [...new Set(branches.map((branch) => nameType(document, follow(document, branch) ?? {})))].join(
      ' or ',
    )
  if (Array.isArray(node.enum)) return node.enum.map((word) => String(word)).join(', ')
  if ('const' in node) return String(node.const)
  if (node.type === 'array') return `list of ${nameType(document, follow(document, node.items) ?? {})}`
  if (node.format === 'date' || node.format === 'date-time')
    return node.format === 'date' ? 'date' : 'instant'
  if (Array.isArray(node.type)) return node.type.join(' or ')
  return typeof node.type === 'string' ? node.type : 'anything'
}

function follow(document: ApiDocument, schema: unknown): Node | undefined {
  if (!isNode(schema)) return undefined
  const name = typeof schema.$ref === 'string' ? schema.$ref.split('/').at(-1) : undefined
  if (name === undefined) return schema
  const target: unknown = document.components?.schemas?.[name]
  return isNode(target) ? target : undefined
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
