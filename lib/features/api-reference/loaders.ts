import { API_OPERATIONS } from '@/lib/features/api-reference/schema'
import { type ApiDocument, createApiDocument } from '@/lib/platform/api/document'
import { listProperties, type Property } from '@/lib/platform/api/property'

export function loadApiDocument(): ApiDocument {
  return createApiDocument(API_OPERATIONS)
}

export type CallOnPage = {
  id: string
  method: string
  path: string
  summary: string
  permission: string
  parameters: Property[]
  body: Property[]
  answer: Property[]
}
export type TagOnPage = { tag: string; calls: CallOnPage[] }

/** The calls by tag, each with its fields laid flat, out of the very document that machines read. */
export function loadReferencePage(): TagOnPage[] {
  const document = loadApiDocument()
  const tags = new Map<string, CallOnPage[]>()
  for (const { id, method, path, tag, summary, permission, consumes } of API_OPERATIONS) {
    const described = document.paths?.[path]?.[method]
    const answer = described?.responses?.[method === 'post' ? '201' : '200'] ?? described?.responses?.['200']
    const calls = tags.get(tag) ?? []
    tags.set(tag, calls)
    calls.push({
      ...{ id, method: method.toUpperCase(), path, summary, permission },
      // The two headers of every call are said once, above all of them.
      parameters: (described?.parameters ?? []).flatMap((parameter) =>
        'in' in parameter && parameter.in !== 'header' ? [describeParameter(parameter)] : [],
      ),
      body: consumes ? [describeFile(consumes)] : listProperties(document, described?.requestBody),
      answer: listProperties(document, answer),
    })
  }
  return [...tags].map(([tag, calls]) => ({ tag, calls }))
}

const describeFile = (type: string): Property => ({
  ...{ name: 'the body', path: 'the body', type, isRequired: true, depth: 0 },
  description: 'the file itself',
})

type Parameter = { name?: string; in?: string; required?: boolean; description?: string }

function describeParameter({
  name = '',
  in: place = '',
  required = false,
  description = '',
}: Parameter): Property {
  return { name, path: name, type: place, isRequired: required, description, depth: 0 }
}
