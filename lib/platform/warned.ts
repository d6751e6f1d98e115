export type Warning = { code: string; message: string }

/** A value that was recorded although something spoke against it: what has been done is never refused for advice. */
export type Warned<T> = { value: T; warnings: Warning[] }
