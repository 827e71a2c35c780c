/** The variable in which the start hands the product's address to the web server. */
export const PRODUCT_DATABASE_VARIABLE = 'GUDGEON_PRODUCT_DATABASE'
