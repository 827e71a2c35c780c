import { posting } from '../../enter-body'
import { serve } from '../../serve'

export const { GET, POST, PUT, PATCH, DELETE } = serve({ POST: posting('changes') })
