/** Where nothing can be served from, so that an address that leaves the site cannot look like one that stays. */
const NOWHERE = 'http://nowhere.invalid'

/**
 * Where to go after signing in, as far as it stays on the site; otherwise the front page. Browsers read `\` as `/`
 * and drop tabs and line ends, so the address is judged as they would read it.
 */
export function getAddressOnSite(next: string | null | undefined): string {
  if (!next?.startsWith('/') || !URL.canParse(next, NOWHERE)) return '/'
  const read = new URL(next, NOWHERE)
  // `//other.site` and `/\other.site` name another host; `/..//other.site` would after it was tidied up.
  if (read.origin !== NOWHERE || read.pathname.startsWith('//')) return '/'
  return `${read.pathname}${read.search}${read.hash}`
}
