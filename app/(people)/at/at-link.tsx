import type { ComponentProps, MouseEvent } from 'react'
import { Link } from '../../ui/link'

/**
 * A way within the pages at the vehicle: they are all on the phone already, so that nothing is asked of the server and it
 * works without reception.
 */
export function AtLink({ href, ...props }: ComponentProps<'a'> & { href: string }) {
  const go = (event: MouseEvent) => {
    if (event.metaKey || event.ctrlKey || event.shiftKey) return
    event.preventDefault()
    goTo(href)
  }
  return <Link href={href} onClick={go} {...props} ref={undefined} />
}

export function goTo(address: string): void {
  window.history.pushState(null, '', address)
  window.scrollTo(0, 0)
}
