export type TypesetRequest = {
  /** Path of the template below lib/documents. */
  template: string
  /** Plain JSON, handed to the template as data. */
  data: unknown
  /** Pictures by the name the template asks for them, below lib/documents; they exist in memory only. */
  pictures?: { name: string; bytes: Uint8Array }[]
}

/** A tagged PDF/UA-1. Synchronous; throws when the template or a picture is broken. */
export function typeset(request: TypesetRequest): Uint8Array
