import NextLink from 'next/link'
import type { ComponentProps } from 'react'

/**
 * A link to another page or another view of this one. Pages are made when they are asked for, so that nothing of them
 * can be fetched ahead but their frame: a vehicle's page alone would ask for that thirty times.
 */
export function Link(props: ComponentProps<typeof NextLink>) {
  return <NextLink prefetch={false} {...props} />
}
