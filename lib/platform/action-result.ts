export type ActionWarning = { code: string; message: string }
export type ActionFieldError = { path: string; message: string }

/** What a form's action answers. Nothing it can say throws the form away. */
export type ActionResult<T> =
  | { status: 'done'; value: T; warnings?: ActionWarning[] }
  | { status: 'refused'; code: string; message: string; fields?: ActionFieldError[]; present?: unknown }
  | { status: 'signed-out' }
  | { status: 'failed'; reference: string }

/** What a form sends: where, under which key the effect happens once, and what was typed. */
export type ActionCall = { workspace: string; operationId: string; input: unknown }
