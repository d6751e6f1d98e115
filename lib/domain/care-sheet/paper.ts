/** The papers a sheet can be printed on. */
export const PAPERS = ['a4', 'a5', 'letter'] as const
export type Paper = (typeof PAPERS)[number]
