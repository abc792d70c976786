import { signal } from '@preact/signals';

/** The program line that was clicked: in which setup, and its number from 1. */
export const pickedLine = signal<{ readonly setup: number; readonly line: number } | null>(null);
/** The finding that was picked, by its place in the proof's list. */
export const pickedFinding = signal<number | null>(null);
