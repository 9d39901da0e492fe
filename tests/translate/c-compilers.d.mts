export declare function findCompilers(): ('gcc' | 'clang')[];
export declare function findSanitizers(): ('gcc' | 'clang')[];
export declare function hasMake(): boolean;
export declare function ensureCompilers(): Promise<void>;
