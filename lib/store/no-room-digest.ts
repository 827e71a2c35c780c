/** By what whoever is told of a failure knows that the disk is full: pages see of a failure its digest alone. */
export const NO_ROOM_DIGEST = 'no-room'
