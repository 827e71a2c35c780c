import { posting } from '../../enter-body'
import { serve } from '../../serve'

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ POST: posting('changes') })
