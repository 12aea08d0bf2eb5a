import { themeQuartz } from 'ag-grid-community';

export const rowHeight = 24;
export const headRowHeight = 28;

/** The grid in the window's tokens: it follows light and dark by itself. */
export const gridTheme = themeQuartz.withParams({
  accentColor: 'var(--accent)',
  backgroundColor: 'var(--sheet)',
  foregroundColor: 'var(--ink)',
  textColor: 'var(--ink)',
  borderColor: 'var(--rule)',
  browserColorScheme: 'inherit',
  cellHorizontalPadding: 7,
  columnBorder: false,
  fontFamily: 'inherit',
  fontSize: 13,
  headerBackgroundColor: 'var(--paper)',
  headerColumnBorder: false,
  headerColumnResizeHandleColor: 'transparent',
  headerFontSize: 12,
  headerFontWeight: 400,
  headerHeight: 30,
  headerTextColor: 'var(--quiet)',
  rowBorder: { color: 'var(--rule)' },
  rowHeight,
  rowHoverColor: 'transparent',
  selectedRowBackgroundColor: 'var(--at-hand)',
  spacing: 4,
  wrapperBorder: false,
  wrapperBorderRadius: 0,
  borderRadius: 0,
  cellEditingBorder: { color: 'var(--accent)', width: 2 },
  cellEditingShadow: 'none',
  tooltipBackgroundColor: 'var(--sheet)',
  tooltipTextColor: 'var(--ink)',
  tooltipBorder: { color: 'var(--edge)' },
  popupShadow: 'none',
});
