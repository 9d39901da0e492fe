import { findRule, type Finding } from '../../../checks/index.ts';
import type { ListRow } from '../../parts/RowList.tsx';
import { leavesOut } from './mending.ts';
import type { ListedFinding, RuleBlock } from './view.ts';

/** Whether it can be mended without asking anything. */
function canMend({ mend, waived }: Finding): boolean {
  return mend !== null && waived === null && leavesOut(mend).length === 0;
}

function RuleHeading({
  block,
  onMendAll,
}: {
  readonly block: RuleBlock;
  readonly onMendAll: (entries: readonly ListedFinding[]) => void;
}) {
  const mendable = block.entries.filter(({ finding }) => canMend(finding));
  return (
    <div className="rule-heading">
      <span className="severity" data-severity={block.severity}>
        {block.severity}
      </span>
      <span className="rule-title">{findRule(block.rule)?.title ?? block.rule}</span>
      <span className="count">{block.entries.length}</span>
      {mendable.length > 1 ? (
        <button type="button" className="button small push" tabIndex={-1} onClick={() => onMendAll(mendable)}>
          Mend all {mendable.length}
        </button>
      ) : null}
    </div>
  );
}

function FindingRow({ entry }: { readonly entry: ListedFinding }) {
  const { finding, title } = entry;
  return (
    <div className="finding-row">
      <span className="row-mark" aria-hidden="true">
        ✓
      </span>
      <span className="finding-title">
        <span className="visually-hidden">{finding.severity}: </span>
        {title}
      </span>
      <span className="finding-text">{finding.message}</span>
      <span className="finding-tags soft">
        {finding.options.length > 0 ? <span title={finding.options.join('; ')}>some builds</span> : null}
        {canMend(finding) ? <span>mend</span> : null}
        {finding.waived === null ? null : <span>waived by {finding.waived.by}</span>}
      </span>
    </div>
  );
}

/** Blocks as rows of the list: a heading a rule, then its findings. */
export function rowsOf(
  blocks: readonly RuleBlock[],
  onMendAll: (entries: readonly ListedFinding[]) => void,
): readonly ListRow[] {
  return blocks.flatMap((block): ListRow[] => [
    {
      key: `heading ${block.severity} ${block.rule}`,
      isHeading: true,
      height: 2.5,
      draw: () => <RuleHeading block={block} onMendAll={onMendAll} />,
    },
    ...block.entries.map((entry) => ({
      key: entry.key,
      isHeading: false,
      height: 2.75,
      draw: () => <FindingRow entry={entry} />,
    })),
  ]);
}
