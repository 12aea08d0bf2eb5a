import { projectTakeoff } from '../../src-shared/session/project-takeoff.ts';
import { formatLength } from '../../src-shared/units/format-quantity.ts';
import { lengthUnit, project, solved } from '../state/document-store.ts';

/** What to buy, counted over all runs, and what is terminated by hand. */
export function TakeoffView() {
  const session = solved();
  if (session === null) return null;
  const { items, terminations, uncountedSpans } = projectTakeoff(session);
  const loose = project.value?.fixtures.filter(({ run }) => run === null).length ?? 0;
  const unit = lengthUnit.value;
  return (
    <div class="paper">
      <h2>Takeoff</h2>
      {uncountedSpans > 0 && (
        <p class="unsolved">
          Not counted: the pieces of {uncountedSpans} spans, which are not known.
        </p>
      )}
      {loose > 0 && <p class="unsolved">Not counted: {loose} fixtures that are on no run.</p>}
      <table class="plain">
        <thead>
          <tr>
            <th scope="col">Item</th>
            <th scope="col" class="figures">
              Length
            </th>
            <th scope="col" class="figures">
              Quantity
            </th>
            <th scope="col" class="figures">
              Spares
            </th>
            <th scope="col" class="figures">
              Order
            </th>
          </tr>
        </thead>
        <tbody>
          {items.map(({ item, lengthM, quantity, spares }) => (
            <tr key={`${item} ${lengthM}`}>
              <th scope="row">{item}</th>
              <td class="figures">{formatLength(lengthM, unit)}</td>
              <td class="figures">{quantity}</td>
              <td class="figures">{spares}</td>
              <td class="figures strong">{quantity + spares}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="quiet">
        Spares: 5 %, rounded up per item, at least one; common practice, no source.
      </p>
      <h3>Conductors to terminate by hand</h3>
      <table class="plain">
        <tbody>
          <tr>
            <th scope="row">Every fixture hard-wired</th>
            <td class="figures">{terminations.hardWired}</td>
          </tr>
          <tr>
            <th scope="row">As runs: at the head boxes only</th>
            <td class="figures strong">{terminations.asRuns}</td>
          </tr>
        </tbody>
      </table>
    </div>
  );
}
