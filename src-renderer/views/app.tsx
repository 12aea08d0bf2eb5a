import { RowMenu } from '../grid/row-menu.tsx';
import { ScheduleGrid } from '../grid/schedule-grid.tsx';
import { connection } from '../host/connection.ts';
import { project } from '../state/document-store.ts';
import { dragged } from '../state/follow-drops.ts';
import { notice } from '../state/notice.ts';
import { side, view } from '../state/view-state.ts';
import { Dialogs } from './dialogs.tsx';
import { EmptyState } from './empty-state.tsx';
import { Foot } from './foot.tsx';
import { ImportView } from './import-view.tsx';
import { JobView } from './job-view.tsx';
import { ReadingLine } from './reading-line.tsx';
import { LinesView, PatchView, RunsView, SuppliesView, TypesView } from './record-view.tsx';
import { SidePanel } from './side-panel.tsx';
import { Tabs } from './tabs.tsx';
import { TakeoffView } from './takeoff-view.tsx';
import { TopBar } from './top-bar.tsx';

function CurrentView() {
  switch (view.value) {
    case 'schedule':
      return <ScheduleGrid nonce={connection().nonce} />;
    case 'runs':
      return <RunsView />;
    case 'types':
      return <TypesView />;
    case 'lines':
      return <LinesView />;
    case 'supplies':
      return <SuppliesView />;
    case 'patch':
      return <PatchView />;
    case 'takeoff':
      return <TakeoffView />;
    case 'job':
      return <JobView />;
    case 'import':
      return <ImportView />;
  }
}

function Job() {
  const beside = view.value === 'schedule' || view.value === 'runs';
  return (
    <>
      <Tabs />
      <ReadingLine />
      <main class={`work${beside && side.value !== 'closed' ? ' work-beside' : ''}`}>
        <section
          id="view"
          class="view"
          role="tabpanel"
          aria-labelledby={`tab-${view.value}`}
          data-pane
          tabIndex={-1}
        >
          <CurrentView />
        </section>
        {beside && <SidePanel />}
      </main>
    </>
  );
}

/** The whole window. A file may be dropped anywhere on it. */
export function App() {
  const open = project.value !== null;
  return (
    <div class={`window${dragged.value ? ' dragged' : ''}`}>
      <TopBar />
      {open ? (
        <Job />
      ) : (
        <>
          {notice.value !== null && <ReadingLine />}
          <EmptyState />
        </>
      )}
      <Foot />
      <RowMenu />
      <Dialogs />
    </div>
  );
}
