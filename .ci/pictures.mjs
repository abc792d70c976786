// Makes the pictures of the screen; the script is TypeScript, so it goes through vite.
import { runnerImport } from 'vite';

await runnerImport('./tests/pictures.ts');
