import { type FamilyFit, wasLearned } from '@/lib/scoring/family-fit'
import { learnedReport } from '@/lib/scoring/learned-report'
import { learnedNewPartLife, statedLife } from '@/lib/scoring/stated-life'
import { CONFIDENCE, HARM, SEVERITIES } from '../../../ui/library-words'
import { Link } from '../../../ui/link'
import styles from '../families.module.css'
import { ProvenanceLine } from '../provenance-line'
import { lifeSentence } from '../sentences'
import { CautionList } from './caution-list'
import { CostLines } from './cost-lines'
import { LearnedLifeFacts } from './learned-life'
import { LifeCurve } from './life-curve'
import { WeakPointFacts } from './weak-point-facts'
import type { WeakPointProps } from './weak-point-props'

/** One weak point: what is stated of it, and what that statement means for a new part. */
export function WeakPointArticle({ fit, ...props }: WeakPointProps & { fit: FamilyFit | null }) {
  const { weakPoint, family, library, settings, formats } = props
  const { key, component, failureMode, confidence, grounds, severity, harm, cautions } = weakPoint
  const stated = statedLife(family, weakPoint)
  const learned = fit?.weakPoints.get(key) ?? null
  return (
    <article className={styles.weakPoint} id={encodeURIComponent(key)}>
      <header>
        <h2>{component}</h2>
        <p className={styles.how}>
          {[failureMode, `once it has failed: ${SEVERITIES[severity]}`].filter(Boolean).join('; ')}
          {harm && <strong>; {HARM}</strong>}
        </p>
      </header>
      <div className={styles.stated}>
        <p>{lifeSentence(weakPoint, formats)}</p>
        <p className={styles.soft}>
          How sure: {CONFIDENCE[confidence].word} ({CONFIDENCE[confidence].meaning}).
          {grounds !== null && ` Grounds: ${grounds}.`}
        </p>
        <ProvenanceLine stated={{ ...weakPoint, grounds: null }} formats={formats} />
        <LearnedLifeFacts
          report={learned && learnedReport(weakPoint, learned)}
          {...{ learned, weakPoint, family, formats }}
        />
        <WeakPointFacts {...{ weakPoint, family, formats }} />
        <CostLines {...{ weakPoint, library, settings, formats }} />
        {costsSomething(weakPoint) && (
          <p>
            <Link href={`/families/${encodeURIComponent(family.key)}/interval/${encodeURIComponent(key)}`}>
              How often to replace it
              <span className="for-ears">: {component}</span>
            </Link>
          </p>
        )}
        <h3>Cautions</h3>
        <CautionList cautions={cautions} />
      </div>
      <LifeCurve
        learned={fit && learned && wasLearned(learned) ? learnedNewPartLife(family, weakPoint, fit) : null}
        observed={learned?.observed}
        {...{ weakPoint, stated, formats }}
      />
    </article>
  )
}

const costsSomething = ({ cost: { parts, hours } }: WeakPointProps['weakPoint']) => parts + hours > 0
