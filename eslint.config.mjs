import js from '@eslint/js';
import reactHooks from 'eslint-plugin-react-hooks';
import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['dist/**', 'coverage/**', 'node_modules/**', '**/*.cjs', 'tests/**/fixtures/**'] },
  js.configs.recommended,
  ...tseslint.configs.recommended,
  {
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_', ignoreRestSiblings: true }],
      '@typescript-eslint/consistent-type-imports': 'error',
      'no-empty': ['error', { allowEmptyCatch: false }],
      eqeqeq: 'error',
      'no-console': 'off',
      'no-undef': 'off',
    },
  },
  {
    // The core takes the clock, files and locale as arguments.
    files: ['src/{number,units,model,can,wiring,translate,faults,checks,compare,edit,export}/**/*.ts'],
    rules: {
      'no-console': 'error',
      'no-restricted-properties': ['error', { object: 'Date', property: 'now', message: 'the core takes the clock as an argument' }],
      'no-restricted-syntax': [
        'error',
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: 'the core takes the clock as an argument' },
        { selector: "CallExpression[callee.object.name='Math'][callee.property.name='random']", message: 'the core is deterministic' },
      ],
    },
  },
  {
    // The two rules that hold for every React program; the others of this plug-in speak for its compiler, which is not used here.
    files: ['src/workbench/**/*.{ts,tsx}'],
    plugins: { 'react-hooks': reactHooks },
    rules: { 'react-hooks/rules-of-hooks': 'error', 'react-hooks/exhaustive-deps': 'error' },
  },
);
