import { commonPractice, named, type Draft, type Rule } from '../../rule.ts';
import { numberCase } from '../../examples/frame-case.ts';

export const rule: Rule = {
  id: 'record/document-years',
  severity: 'fix',
  title: 'Document is for other years than the vehicle',
  why: 'Message layouts and cavities change between model years: a sheet for another year proves nothing.',
  sources: [commonPractice()],
  check: {
    map(context) {
      const drafts: Draft[] = [];
      for (const side of [context.pairing.host, context.pairing.donor]) {
        const vehicle = yearsIn(side.platform.years);
        if (!vehicle) continue;
        for (const { id, title, years } of side.platform.documents ?? []) {
          const covered = yearsIn(years);
          if (!covered || (covered.from <= vehicle.from && covered.to >= vehicle.to)) continue;
          drafts.push({
            subject: `${side.name}:${id}`,
            message: `${title} (${id}) is for ${years}, the ${side.name} platform for ${side.platform.years}`,
            values: [
              named('document', id),
              named('document years', years!),
              named('platform years', side.platform.years!),
            ],
          });
        }
      }
      return drafts.length === 0 ? null : drafts;
    },
  },
  examples: {
    failing: () => ({
      says: 'The sheet is for 2016–2018, the chassis for 2019–2021.',
      documents: sheet('2016–2018'),
      expect: ['host:sheet-1'],
    }),
    passing: () => ({ says: 'The sheet is for 2018–2022.', documents: sheet('2018–2022'), expect: [] }),
  },
};

function yearsIn(text: string | undefined): { readonly from: number; readonly to: number } | null {
  const years = (text ?? '').match(/\b(19|20)\d{2}\b/g)?.map(Number);
  return years && years.length > 0 ? { from: Math.min(...years), to: Math.max(...years) } : null;
}

function sheet(years: string) {
  return numberCase({ host: { years: '2019–2021', documents: [{ id: 'sheet-1', title: 'Sheet 1', years }] } });
}
