/** What is reckoned of a ground once, however often it is asked. */

/** What a ground carries along: of itself, for one that is spread from another carries the other's. */
export interface Reckoned {
  of: object
  by: Map<object, unknown>
}

/**
 * Kept on the ground itself, and gone with it. A map with weak keys holds what it keeps through every collection of young
 * objects: each vehicle of a fleet would be carried to the old ones, and cleared from there at a far higher price.
 */
export class OncePerGround<Ground extends { reckoned?: Reckoned }, T> {
  /** @param make as a ground is of one moment, what it comes to never changes */
  constructor(private readonly make: (ground: Ground) => T) {}

  of(ground: Ground): T {
    if (ground.reckoned?.of !== ground) ground.reckoned = { of: ground, by: new Map() }
    const { by } = ground.reckoned
    if (!by.has(this)) by.set(this, this.make(ground))
    return by.get(this) as T
  }
}
