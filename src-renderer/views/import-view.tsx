import { useEffect, useState } from 'preact/hooks';
import { project } from '../state/document-store.ts';
import { loadBooks } from '../state/import-books.ts';
import { previews, shownPreview } from '../state/import-preview.ts';
import { openCount } from '../state/import-report.ts';
import { HandPanel } from './import/hand-panel.tsx';
import { ImportDialogs } from './import/import-dialogs.tsx';
import { ImportHead } from './import/import-head.tsx';
import { PreviewGrid } from './import/preview-grid.tsx';
import type { RowChoice } from './import/preview-rows.ts';
import { QuestionList } from './import/question-list.tsx';
import { ConfidenceFilter, StateFilter } from './import/report-filters.tsx';
import { ReportGrid } from './import/report-grid.tsx';
import { SheetBar, SheetList } from './import/sheet-bar.tsx';

/** The source sheets with what was made of them, or why they cannot be shown. */
function Preview() {
  const source = project.value?.source ?? null;
  const all = previews.value;
  const sheet = shownPreview.value;
  const [choice, setChoice] = useState<RowChoice>('all');
  const [tried, setTried] = useState(false);
  useEffect(() => {
    if (all === null) void loadBooks().then(() => setTried(true));
  }, [all]);
  if (source === null || all === null || sheet === null) {
    return (
      <p class="preview-none quiet">
        {tried
          ? 'The source file is not kept with this job, so its sheets cannot be shown; the report stands as it was read.'
          : 'Reading the source file …'}
      </p>
    );
  }
  return (
    <>
      <SheetList all={all} shown={sheet} source={source} />
      <SheetBar sheet={sheet} choice={choice} onChoice={setChoice} />
      <PreviewGrid key={`${sheet.file} ${sheet.sheet}`} sheet={sheet} choice={choice} />
    </>
  );
}

/** How the source was read: the sheets themselves at the left, every decision at the right. */
export function ImportView() {
  const source = project.value?.source ?? null;
  if (source === null) return null;
  return (
    <div class="import-view">
      <ImportHead source={source} />
      <QuestionList questions={source.questions} />
      <div class="import-body">
        <section class="import-preview" aria-label="Source sheets">
          <Preview />
        </section>
        <section class="import-report" aria-label="Import report">
          <div class="report-head">
            <h3>
              {openCount.value === 0
                ? 'No reading wants a look'
                : `${openCount.value} ${openCount.value === 1 ? 'reading wants' : 'readings want'} a look`}
            </h3>
            <StateFilter />
            <ConfidenceFilter />
          </div>
          <ReportGrid />
          <HandPanel />
        </section>
      </div>
      <ImportDialogs />
    </div>
  );
}
