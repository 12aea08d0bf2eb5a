import {
  CellApiModule,
  CellStyleModule,
  ClientSideRowModelApiModule,
  ClientSideRowModelModule,
  ColumnApiModule,
  CustomEditorModule,
  EventApiModule,
  ModuleRegistry,
  RenderApiModule,
  RowApiModule,
  RowSelectionModule,
  RowStyleModule,
  ScrollApiModule,
  TooltipModule,
  ValidationModule,
} from 'ag-grid-community';

/** Registers the parts of the grid we use; its validation only while developing. */
export function registerGrid(): void {
  ModuleRegistry.registerModules([
    CellApiModule,
    CellStyleModule,
    ClientSideRowModelApiModule,
    ClientSideRowModelModule,
    ColumnApiModule,
    CustomEditorModule,
    EventApiModule,
    RenderApiModule,
    RowApiModule,
    RowSelectionModule,
    RowStyleModule,
    ScrollApiModule,
    TooltipModule,
    ...(import.meta.env.DEV ? [ValidationModule] : []),
  ]);
}
