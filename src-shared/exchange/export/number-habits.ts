/** Whether a column of the file writes its numbers as text with a decimal comma. */
import { originsOf } from '../../document/import-answers.ts';
import type { Fixture } from '../../document/project.ts';
import type { CellContent } from './export-table.ts';

const bareComma = /^\s*[-+]?\d+,\d+\s*$/u;
const anyComma = /\d,\d/u;
const anyPoint = /\d\.\d/u;

interface Habit {
  numbers: number;
  /** Texts that are a number with a comma and nothing else. */
  bare: number;
  commas: number;
  points: number;
}

/** The habits of every source column, found on first use. */
export class NumberHabits {
  private habits: Habit[] | undefined;

  constructor(
    private readonly fixtures: readonly Fixture[],
    private readonly columns: number,
  ) {}

  private habitOf(place: number): Habit | undefined {
    if (this.habits === undefined) {
      const habits = Array.from(
        { length: this.columns },
        (): Habit => ({ numbers: 0, bare: 0, commas: 0, points: 0 }),
      );
      for (const fixture of this.fixtures) {
        for (const { cells } of originsOf(fixture)) {
          cells.forEach((cell, column) => {
            const habit = habits[column];
            if (habit !== undefined) note(habit, cell);
          });
        }
      }
      this.habits = habits;
    }
    return this.habits[place];
  }

  /** A number, or a number with its unit, as the column writes them. */
  written(place: number, content: number | string): number | string {
    const habit = this.habitOf(place);
    if (habit === undefined || habit.commas === 0 || habit.points > 0) return content;
    if (typeof content === 'string') return content.replace('.', ',');
    const isText = habit.bare > habit.numbers && !String(content).includes('e');
    return isText ? String(content).replace('.', ',') : content;
  }
}

function note(habit: Habit, cell: CellContent): void {
  if (typeof cell === 'number') habit.numbers += 1;
  if (typeof cell !== 'string') return;
  if (bareComma.test(cell)) habit.bare += 1;
  if (anyComma.test(cell)) habit.commas += 1;
  if (anyPoint.test(cell)) habit.points += 1;
}
